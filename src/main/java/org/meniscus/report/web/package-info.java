@NullMarked
package org.meniscus.report.web;

import org.jspecify.annotations.NullMarked;
