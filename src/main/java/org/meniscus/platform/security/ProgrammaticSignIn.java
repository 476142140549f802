package org.meniscus.platform.security;

import java.time.Duration;
import java.util.List;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpSession;

import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.authority.SimpleGrantedAuthority;
import org.springframework.security.core.context.SecurityContext;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
import org.springframework.stereotype.Component;

/** Lets somebody in who has just shown who they are: with a session of their own, new on every entry. */
@Component
public class ProgrammaticSignIn {

	/** A working day without a touch of the phone must not lose a visit; at a desk two hours are enough. Common practice, no source. */
	static Duration sessionTimeout(Role role) {
		return (role == Role.TECHNICIAN) ? Duration.ofHours(14) : Duration.ofHours(2);
	}

	/** The proof that is kept in the session. */
	public static Authentication authenticationOf(SignedInUser user) {
		return UsernamePasswordAuthenticationToken.authenticated(user, null,
				List.of(new SimpleGrantedAuthority(user.role().authority())));
	}

	/** Signs in without the sign-in page; whatever the browser's session held before is gone. */
	public void signIn(SignedInUser user, HttpServletRequest request, HttpServletResponse response) {
		HttpSession before = request.getSession(false);
		if (before != null) {
			before.invalidate();
		}
		HttpSession session = request.getSession(true);
		session.setMaxInactiveInterval((int) sessionTimeout(user.role()).toSeconds());
		SecurityContext context = SecurityContextHolder.createEmptyContext();
		context.setAuthentication(authenticationOf(user));
		SecurityContextHolder.setContext(context);
		new HttpSessionSecurityContextRepository().saveContext(context, request, response);
	}

}
