@NullMarked
package org.meniscus.spend.web;

import org.jspecify.annotations.NullMarked;
