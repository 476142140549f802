package org.meniscus.demo;

import java.util.List;

import org.meniscus.platform.Role;

/** The people of the invented company and how to sign in as each. The password is public: it stands in the start-up text. */
record DemoPeople(String name, Role role, String email) {

	static final String COMPANY = "Juniper & Quill (invented)";

	static final String PASSWORD = "copper kettle on the blue fence";

	static final DemoPeople OWNER = new DemoPeople("Odessa Quill", Role.OWNER, "owner@demo.example");

	static final DemoPeople OFFICE = new DemoPeople("Milo Tarrant", Role.OFFICE, "office@demo.example");

	/** In the order in which the list of pools numbers them. */
	static final List<DemoPeople> TECHNICIANS = List.of(new DemoPeople("Ines Calloway", Role.TECHNICIAN, "ines@demo.example"),
			new DemoPeople("Teo Marrow", Role.TECHNICIAN, "teo@demo.example"),
			new DemoPeople("Wren Ostrander", Role.TECHNICIAN, "wren@demo.example"));

}
