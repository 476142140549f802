package org.meniscus.platform.security;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

import org.springframework.security.access.prepost.PreAuthorize;

/** For everybody who is signed in; which rows a technician sees is decided by the feature's door. */
@Target({ ElementType.TYPE, ElementType.METHOD })
@Retention(RetentionPolicy.RUNTIME)
@PreAuthorize("hasAnyRole('TECHNICIAN', 'OFFICE', 'OWNER')")
public @interface StaffOnly {
}
