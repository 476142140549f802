package org.meniscus.demo;

import java.util.List;

import org.meniscus.platform.Role;

/** The people of the invented company and how to sign in as each. The password is public: it stands in the start-up text. */
record DemoPerson(String name, Role role, String email) {

	static final String COMPANY = "Juniper & Quill (invented)";

	static final String PASSWORD = "copper kettle on the blue fence";

	static final DemoPerson OWNER = new DemoPerson("Odessa Quill", Role.OWNER, "owner@demo.example");

	static final DemoPerson OFFICE = new DemoPerson("Milo Tarrant", Role.OFFICE, "office@demo.example");

	/** In the order in which the list of pools numbers them. */
	static final List<DemoPerson> TECHNICIANS = List.of(new DemoPerson("Ines Calloway", Role.TECHNICIAN, "ines@demo.example"),
			new DemoPerson("Teo Marrow", Role.TECHNICIAN, "teo@demo.example"),
			new DemoPerson("Wren Ostrander", Role.TECHNICIAN, "wren@demo.example"));

}
