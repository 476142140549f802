package org.meniscus.visit;

/** The same visit id was sent before with other contents; neither is lost: the first is stored, the second is still on the phone. */
public class VisitConflict extends RuntimeException {

	public VisitConflict(VisitId visit) {
		super("visit " + visit + " is stored with other contents");
	}

}
