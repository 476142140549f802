/**
 * What is on file about a pool and what is tested in it: levels, ranges, readings and how precise a test is, the reason for the
 * visit.
 */
@NullMarked
package org.meniscus.water.pool;

import org.jspecify.annotations.NullMarked;
