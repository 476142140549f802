@NullMarked
package org.meniscus.client.web;

import org.jspecify.annotations.NullMarked;
