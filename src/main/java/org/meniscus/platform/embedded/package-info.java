/** The default database: a real PostgreSQL, unpacked and run beside the service. Gives way to any datasource that is set. */
@NullMarked
package org.meniscus.platform.embedded;

import org.jspecify.annotations.NullMarked;
