package org.meniscus.company;

/** A company must keep at least one owner who can sign in. */
public class LastOwner extends RuntimeException {

	LastOwner() {
		super("the last owner stays owner");
	}

}
