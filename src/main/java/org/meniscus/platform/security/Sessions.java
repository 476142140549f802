package org.meniscus.platform.security;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.PersonId;
import org.springframework.session.FindByIndexNameSessionRepository;
import org.springframework.session.Session;
import org.springframework.stereotype.Component;

/** The open sessions of a person, on whichever device. Call it outside a transaction: sessions are stored in one of their own. */
@Component
public class Sessions {

	private final FindByIndexNameSessionRepository<? extends Session> sessions;

	Sessions(FindByIndexNameSessionRepository<? extends Session> sessions) {
		this.sessions = sessions;
	}

	/** Whatever this person does next needs a new sign-in. */
	public void end(PersonId person) {
		endOthers(person, null);
	}

	/** @param current id of the session that stays */
	public void endOthers(PersonId person, @Nullable String current) {
		sessions.findByPrincipalName(person.toString()).keySet().stream().filter(id -> !id.equals(current)).forEach(sessions::deleteById);
	}

}
