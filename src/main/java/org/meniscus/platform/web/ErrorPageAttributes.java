package org.meniscus.platform.web;

import java.util.Map;
import java.util.UUID;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.web.error.ErrorAttributeOptions;
import org.springframework.boot.webmvc.error.DefaultErrorAttributes;
import org.springframework.stereotype.Component;
import org.springframework.web.context.request.WebRequest;

/** What an error page gets to know: a reference number that is also in the log, and nothing else. */
@Component
class ErrorPageAttributes extends DefaultErrorAttributes {

	private static final Logger log = LoggerFactory.getLogger(ErrorPageAttributes.class);

	@Override
	public Map<String, Object> getErrorAttributes(WebRequest request, ErrorAttributeOptions options) {
		Map<String, Object> attributes = super.getErrorAttributes(request, options);
		attributes.remove("message");
		attributes.remove("exception");
		attributes.remove("trace");
		String reference = UUID.randomUUID().toString().substring(0, 8);
		attributes.put("reference", reference);
		Throwable error = getError(request);
		if (error != null && Integer.valueOf(500).equals(attributes.get("status"))) {
			log.error("request failed, reference {}", reference, error);
		}
		return attributes;
	}

}
