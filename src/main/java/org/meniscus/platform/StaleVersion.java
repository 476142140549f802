package org.meniscus.platform;

import org.jspecify.annotations.Nullable;

/** Somebody else saved the same thing in the meantime; nothing of this attempt was stored. */
public class StaleVersion extends RuntimeException {

	public StaleVersion(String what) {
		super(what + " has been changed by somebody else");
	}

	/** @throws StaleVersion unless the version the form was opened with is the one that is stored */
	public static void requireCurrent(long formVersion, @Nullable Long storedVersion, String what) {
		if (storedVersion == null || storedVersion != formVersion) {
			throw new StaleVersion(what);
		}
	}

}
