package org.meniscus.client.web;

import java.io.IOException;
import java.io.InputStream;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;

import org.meniscus.client.ClientImportService;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * A file far too big for an import is read away and answered with a clear message. Otherwise the server would give up on the
 * form as a whole, its token included, and say something about rights.
 */
@Component
@Order(Ordered.HIGHEST_PRECEDENCE)
class OversizedUploadFilter extends OncePerRequestFilter {

	/** Room for the form around the file. */
	private static final long FORM_OVERHEAD = 64 * 1024;

	/** More than this nobody waits for. */
	private static final long MAX_BYTES_READ = 100L * 1024 * 1024;

	@Override
	protected boolean shouldNotFilter(HttpServletRequest request) {
		return !request.getMethod().equals("POST") || !request.getServletPath().equals("/clients/import")
				|| request.getContentLengthLong() <= ClientImportService.SIZE_MAX + FORM_OVERHEAD;
	}

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		InputStream body = request.getInputStream();
		byte[] buffer = new byte[8192];
		long read = 0;
		for (int n = body.read(buffer); n >= 0 && read < MAX_BYTES_READ; n = body.read(buffer)) {
			read += n;
		}
		response.setStatus(HttpServletResponse.SC_SEE_OTHER);
		response.setHeader("Location", request.getContextPath() + "/clients/import?tooBig=yes");
	}

}
