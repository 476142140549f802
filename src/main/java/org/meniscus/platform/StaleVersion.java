package org.meniscus.platform;

/** Somebody else saved the same thing in the meantime; nothing of this attempt was stored. */
public class StaleVersion extends RuntimeException {

	public StaleVersion(String what) {
		super(what + " has been changed by somebody else");
	}

	/** @throws StaleVersion unless the version the form was opened with is the one that is stored */
	public static void requireCurrent(long formVersion, Long storedVersion, String what) {
		if (storedVersion != formVersion) {
			throw new StaleVersion(what);
		}
	}

}
