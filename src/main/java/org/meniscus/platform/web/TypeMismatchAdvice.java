package org.meniscus.platform.web;

import java.io.IOException;
import java.util.UUID;

import jakarta.servlet.http.HttpServletResponse;

import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.method.annotation.MethodArgumentTypeMismatchException;

/** An address with something that is no id gets the same answer as one with an unknown id. */
@ControllerAdvice
@Order(Ordered.HIGHEST_PRECEDENCE)
class TypeMismatchAdvice {

	@ExceptionHandler(MethodArgumentTypeMismatchException.class)
	void handleTypeMismatch(MethodArgumentTypeMismatchException mismatch, HttpServletResponse response) throws IOException {
		boolean id = mismatch.getRequiredType() == UUID.class;
		response.sendError(id ? HttpServletResponse.SC_NOT_FOUND : HttpServletResponse.SC_BAD_REQUEST);
	}

}
