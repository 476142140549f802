package org.meniscus.platform.security;

import static org.mockito.ArgumentMatchers.any;
import static org.mockito.Mockito.mock;
import static org.mockito.Mockito.never;
import static org.mockito.Mockito.verify;
import static org.mockito.Mockito.when;

import java.util.Map;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.platform.PersonId;
import org.springframework.session.FindByIndexNameSessionRepository;
import org.springframework.session.MapSession;

class SessionsTests {

	private static final PersonId PERSON = new PersonId(UUID.randomUUID());

	@SuppressWarnings("unchecked")
	private final FindByIndexNameSessionRepository<MapSession> repository = mock(FindByIndexNameSessionRepository.class);

	private final Sessions sessions = new Sessions(repository);

	@BeforeEach
	void twoDevices() {
		when(repository.findByPrincipalName(PERSON.toString()))
			.thenReturn(Map.of("phone", new MapSession("phone"), "desk", new MapSession("desk")));
	}

	@Test
	void allDevicesAreSignedOut() {
		sessions.end(PERSON);
		verify(repository).deleteById("phone");
		verify(repository).deleteById("desk");
	}

	@Test
	void deviceInUseStaysSignedIn() {
		sessions.endOthers(PERSON, "desk");
		verify(repository).deleteById("phone");
		verify(repository, never()).deleteById("desk");
	}

	@Test
	void nobodyElseIsSignedOut() {
		sessions.end(new PersonId(UUID.randomUUID()));
		verify(repository, never()).deleteById(any());
	}

}
