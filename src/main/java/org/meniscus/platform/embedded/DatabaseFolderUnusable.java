package org.meniscus.platform.embedded;

import org.jspecify.annotations.Nullable;

/** The folder of the embedded database is locked, damaged or cannot be written; the message says what to do. */
public class DatabaseFolderUnusable extends RuntimeException {

	public DatabaseFolderUnusable(String message, @Nullable Throwable cause) {
		super(message, cause);
	}

}
