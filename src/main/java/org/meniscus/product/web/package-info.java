/** Pages of the products. */
@NullMarked
package org.meniscus.product.web;

import org.jspecify.annotations.NullMarked;
