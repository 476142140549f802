package org.meniscus.platform.web;

import java.time.Duration;
import java.util.List;
import java.util.Locale;

import jakarta.servlet.DispatcherType;

import org.springframework.boot.web.servlet.FilterRegistrationBean;
import org.springframework.context.MessageSource;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.Ordered;
import org.springframework.web.servlet.LocaleResolver;
import org.springframework.web.servlet.config.annotation.InterceptorRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;
import org.springframework.web.servlet.i18n.CookieLocaleResolver;
import org.springframework.web.servlet.i18n.LocaleChangeInterceptor;

/** Languages: English, and Spanish for technicians and homeowners. Both write numbers with a decimal point. */
@Configuration(proxyBeanMethods = false)
class WebConfiguration implements WebMvcConfigurer {

	static final List<Locale> LOCALES = List.of(Locale.US, Locale.forLanguageTag("es-US"));

	@Bean
	LocaleResolver localeResolver() {
		CookieLocaleResolver resolver = new CookieLocaleResolver("lang");
		resolver.setCookieMaxAge(Duration.ofDays(365));
		resolver.setCookieHttpOnly(true);
		resolver.setDefaultLocaleFunction(request -> supportedLocale(request.getLocale()));
		return resolver;
	}

	@Override
	public void addInterceptors(InterceptorRegistry registry) {
		LocaleChangeInterceptor change = new LocaleChangeInterceptor() {

			@Override
			protected Locale parseLocaleValue(String value) {
				return supportedLocale(Locale.forLanguageTag(value));
			}

		};
		change.setIgnoreInvalidLocale(true);
		change.setParamName("lang");
		registry.addInterceptor(change);
	}

	/** Before the session's filter, which is the first to need the database. */
	@Bean
	FilterRegistrationBean<DatabaseUnavailableFilter> databaseAwayFilter(MessageSource texts) {
		FilterRegistrationBean<DatabaseUnavailableFilter> filter = new FilterRegistrationBean<>(new DatabaseUnavailableFilter(texts));
		filter.setOrder(Ordered.HIGHEST_PRECEDENCE);
		filter.setDispatcherTypes(DispatcherType.REQUEST, DispatcherType.ERROR, DispatcherType.ASYNC);
		return filter;
	}

	static Locale supportedLocale(Locale wanted) {
		return wanted.getLanguage().equals("es") ? LOCALES.get(1) : LOCALES.get(0);
	}

}
