package org.meniscus.platform.security;

import java.io.IOException;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;

import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.filter.OncePerRequestFilter;

/** Runs the rest of the request for the company of whoever is signed in. */
class TenantFilter extends OncePerRequestFilter {

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		Authentication authentication = SecurityContextHolder.getContext().getAuthentication();
		if (authentication == null || !(authentication.getPrincipal() instanceof SignedInUser user)) {
			chain.doFilter(request, response);
			return;
		}
		try {
			TenantContext.runAs(user.company(), () -> {
				try {
					chain.doFilter(request, response);
				}
				catch (IOException | ServletException ex) {
					throw new FailureInChain(ex);
				}
			});
		}
		catch (FailureInChain ex) {
			if (ex.getCause() instanceof IOException io) {
				throw io;
			}
			throw (ServletException) ex.getCause();
		}
	}

	/** Error pages are rendered for the same company, so that they keep its name and navigation. */
	@Override
	protected boolean shouldNotFilterErrorDispatch() {
		return false;
	}

	private static final class FailureInChain extends RuntimeException {

		FailureInChain(Exception cause) {
			super(cause);
		}

	}

}
