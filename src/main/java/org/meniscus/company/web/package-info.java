@NullMarked
package org.meniscus.company.web;

import org.jspecify.annotations.NullMarked;
