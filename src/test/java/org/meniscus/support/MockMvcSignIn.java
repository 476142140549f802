package org.meniscus.support;

import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.util.List;

import org.meniscus.platform.SignedInUser;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.authority.SimpleGrantedAuthority;
import org.springframework.security.test.web.servlet.setup.SecurityMockMvcConfigurers;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.test.web.servlet.setup.DefaultMockMvcBuilder;
import org.springframework.test.web.servlet.setup.MockMvcBuilders;
import org.springframework.web.context.WebApplicationContext;

/** Requests as somebody who is signed in, through the real filters, without a browser and without a context of its own. */
public final class MockMvcSignIn {

	private MockMvcSignIn() {
	}

	public static MockMvc mockMvc(WebApplicationContext context) {
		return MockMvcBuilders.webAppContextSetup(context)
			.<DefaultMockMvcBuilder>apply(SecurityMockMvcConfigurers.springSecurity())
			.build();
	}

	public static RequestPostProcessor signedInAs(SignedInUser user) {
		return authentication(UsernamePasswordAuthenticationToken.authenticated(user, null,
				List.of(new SimpleGrantedAuthority(user.role().authority()))));
	}

}
