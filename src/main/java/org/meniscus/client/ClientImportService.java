package org.meniscus.client;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.water.units.UnitSystem;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Clients and pools out of a file: read, shown, and stored only when somebody says so. Between the two the text waits in the
 * database and is read again when it is taken, so nothing that comes back from a browser is trusted.
 */
@Service
public class ClientImportService {

	/** Bytes a file may have. */
	public static final int SIZE_MAX = CsvFile.SIZE_MAX;

	/** Rows a file may have. */
	public static final int ROWS_MAX = CsvFile.ROWS_MAX;

	private static final Duration RETENTION = Duration.ofDays(1);

	private static final int NAME_MAX = 200;

	private final JdbcClient jdbc;

	private final ClientRepository clients;

	private final PoolRepository pools;

	private final CompanyService companies;

	private final UuidGenerator ids;

	private final Clock clock;

	ClientImportService(JdbcClient jdbc, ClientRepository clients, PoolRepository pools, CompanyService companies, UuidGenerator ids,
			Clock clock) {
		this.jdbc = jdbc;
		this.clients = clients;
		this.pools = pools;
		this.companies = companies;
		this.ids = ids;
		this.clock = clock;
	}

	/**
	 * What a file holds and what would become of it.
	 *
	 * @param problems everything that is wrong, in the order of the file
	 * @param unknownHeaders headers that mean nothing here
	 * @param semicolonSeparated whether the cells of the file stand apart by semicolons
	 */
	public record ImportPreview(UUID id, String fileName, List<ImportLine> lines, List<CsvProblem> problems, List<String> unknownHeaders,
			boolean semicolonSeparated, @Nullable ImportResult result) {

		/** Lines with something wrong in them; they are never taken. */
		public long invalidLines() {
			return problems.stream().mapToInt(CsvProblem::line).distinct().count();
		}

		public long validLines() {
			return lines.stream().filter(line -> line.action() != ImportAction.DUPLICATE).count();
		}

		public long duplicates() {
			return lines.stream().filter(line -> line.action() == ImportAction.DUPLICATE).count();
		}

	}

	/** What becomes of a good line. */
	public enum ImportAction {

		/** A new client, with a pool or without. */
		NEW_CLIENT,
		/** A pool for a client named further up in the file. */
		POOL_FOR_EARLIER_LINE,
		/** A pool for a client who is already kept. */
		POOL_FOR_STORED_CLIENT,
		/** The same client with the same pool in the same street is already stored, or is on an earlier line. Saved only on request. */
		DUPLICATE

	}

	/** A good line. @param earlierLine line further up that it belongs to or repeats; 0 when it is one that is already kept */
	public record ImportLine(int line, ClientDetails client, @Nullable PoolDetails pool, ImportAction action, int earlierLine) {
	}

	/** What was stored. @param skippedLines lines of the file that were not taken */
	public record ImportResult(int clients, int pools, int skippedLines) {
	}

	/** The file cannot be taken as it is. */
	public static class UnreadableImportFile extends RuntimeException {

		private final transient List<CsvProblem> problems;

		UnreadableImportFile(List<CsvProblem> problems) {
			super("the file cannot be read");
			this.problems = problems;
		}

		public List<CsvProblem> problems() {
			return problems;
		}

	}

	/** Keeps the file until it is taken or thrown away. @throws Refused when it cannot be read at all */
	@Transactional
	public UUID stage(CompanyId company, PersonId person, String fileName, byte[] bytes) {
		CsvFile.DecodedText text = CsvFile.decode(bytes);
		if (!text.problems().isEmpty()) {
			throw new UnreadableImportFile(text.problems());
		}
		CsvFile file = CsvFile.parse(text.content(), companies.settings(company).currency());
		if (!file.problems().isEmpty()) {
			throw new UnreadableImportFile(file.problems());
		}
		Instant now = clock.instant();
		jdbc.sql("UPDATE client_import SET content = NULL WHERE company_id = ? AND content IS NOT NULL AND created_at < ?")
			.params(company.value(), now.minus(RETENTION).atOffset(ZoneOffset.UTC))
			.update();
		UUID id = ids.next();
		String name = TextNormalizer.singleLine(fileName);
		jdbc.sql("""
				INSERT INTO client_import (company_id, id, person_id, file_name, content, created_at)
				VALUES (:company, :id, :person, :name, :content, :now)""")
			.param("company", company.value())
			.param("id", id)
			.param("person", person.value())
			.param("name", name.substring(0, Math.min(name.length(), NAME_MAX)))
			.param("content", text.content())
			.param("now", now.atOffset(ZoneOffset.UTC))
			.update();
		return id;
	}

	/** @throws NotFound when this company has no such file, or it was kept too long ago */
	@Transactional(readOnly = true)
	public ImportPreview preview(CompanyId company, UUID id) {
		StagedImport staged = findStaged(company, id, false);
		if (staged.result() != null) {
			return new ImportPreview(id, staged.fileName(), List.of(), List.of(), List.of(), false, staged.result());
		}
		return parse(company, id, staged);
	}

	/**
	 * Stores the lines the preview showed as valid, all of it or nothing. Saving twice saves once.
	 *
	 * @param validOnly whether to go on although other lines are invalid
	 * @param duplicates whether to save also the lines that look like duplicates
	 * @return empty when there are invalid lines and {@code validOnly} is not set; then nothing was stored
	 */
	@Transactional
	public Optional<ImportResult> save(CompanyId company, UUID id, boolean validOnly, boolean duplicates) {
		lockCompany(company);
		StagedImport staged = findStaged(company, id, true);
		if (staged.result() != null) {
			return Optional.of(staged.result());
		}
		ImportPreview preview = parse(company, id, staged);
		if (!preview.problems().isEmpty() && !validOnly) {
			return Optional.empty();
		}
		ClientMatcher matches = matcher(company);
		Instant now = clock.instant();
		int newClients = 0;
		int newPools = 0;
		for (ImportLine line : preview.lines()) {
			if (line.action() == ImportAction.DUPLICATE && !duplicates) {
				continue;
			}
			PoolDetails pool = line.pool();
			ClientMatcher.MatchedClient match = matches.find(line.client(), pool).match();
			ClientId client;
			if (match != null && pool != null) {
				client = match.client();
			}
			else {
				client = new ClientId(ids.next());
				clients.save(new Client(company, client, line.client(), now));
				newClients++;
			}
			matches.add(line.line(), client, line.client(), pool);
			if (pool != null) {
				pools.save(new Pool(company, new PoolId(ids.next()), pool.withClient(client), now));
				newPools++;
			}
		}
		int left = (int) (preview.invalidLines() + (duplicates ? 0 : preview.duplicates()));
		jdbc.sql("""
				UPDATE client_import SET content = NULL, imported_at = :now, clients_added = :clients, pools_added = :pools, lines_skipped = :left
				WHERE company_id = :company AND id = :id""")
			.param("now", now.atOffset(ZoneOffset.UTC))
			.param("clients", newClients)
			.param("pools", newPools)
			.param("left", left)
			.param("company", company.value())
			.param("id", id)
			.update();
		return Optional.of(new ImportResult(newClients, newPools, left));
	}

	/** Throws the file away; nothing of it was stored. */
	@Transactional
	public void discard(CompanyId company, UUID id) {
		jdbc.sql("DELETE FROM client_import WHERE company_id = ? AND id = ? AND imported_at IS NULL")
			.params(company.value(), id)
			.update();
	}

	/** Two files of one company taken at the same moment would each miss the other's duplicates. */
	private void lockCompany(CompanyId company) {
		jdbc.sql("SELECT id FROM company WHERE id = ? FOR NO KEY UPDATE").param(company.value()).query(UUID.class)
			.single();
	}

	private ImportPreview parse(CompanyId company, UUID id, StagedImport staged) {
		CsvFile file = CsvFile.parse(staged.content(), companies.settings(company).currency());
		ClientMatcher matches = matcher(company);
		List<ImportLine> lines = new ArrayList<>();
		List<CsvProblem> problems = new ArrayList<>();
		for (CsvRow row : file.rows()) {
			ClientDetails client = row.client();
			if (client == null) {
				problems.addAll(row.problems());
				continue;
			}
			ClientMatcher.MatchResult found = matches.find(client, row.pool());
			ClientMatcher.MatchedClient match = found.match();
			if (found.ambiguous()) {
				problems.add(new CsvProblem(row.line(), CsvColumn.CLIENT.header(UnitSystem.US), "several", List.of(), client.name()));
				continue;
			}
			if (match == null) {
				lines.add(new ImportLine(row.line(), client, row.pool(), ImportAction.NEW_CLIENT, 0));
			}
			else {
				ImportAction fate = found.duplicate() ? ImportAction.DUPLICATE
						: (match.line() > 0) ? ImportAction.POOL_FOR_EARLIER_LINE : ImportAction.POOL_FOR_STORED_CLIENT;
				lines.add(new ImportLine(row.line(), client, row.pool(), fate, match.line()));
			}
			matches.add(row.line(), (match != null) ? match.client() : new ClientId(ids.next()), client, row.pool());
		}
		return new ImportPreview(id, staged.fileName(), List.copyOf(lines), List.copyOf(problems), file.unknownHeaders(),
				file.semicolonSeparated(), null);
	}

	private ClientMatcher matcher(CompanyId company) {
		ClientMatcher matches = new ClientMatcher();
		jdbc.sql("""
				SELECT c.id, c.name, c.email, c.phone, p.name AS pool, p.street
				FROM client c LEFT JOIN pool p ON p.company_id = c.company_id AND p.client_id = c.id
				WHERE c.company_id = ? AND c.archived_at IS NULL ORDER BY c.id, p.id""")
			.param(company.value())
			.query(row -> {
				matches.addStored(new ClientId(row.getObject("id", UUID.class)), row.getString("name"), row.getString("email"),
						row.getString("phone"), row.getString("pool"), row.getString("street"));
			});
		return matches;
	}

	/** @param content empty once taken */
	private record StagedImport(String fileName, String content, @Nullable ImportResult result) {
	}

	private StagedImport findStaged(CompanyId company, UUID id, boolean lock) {
		return jdbc
			.sql("""
				SELECT file_name, content, imported_at, clients_added, pools_added, lines_skipped FROM client_import
				WHERE company_id = :company AND id = :id AND (content IS NOT NULL OR imported_at IS NOT NULL)"""
					+ (lock ? " FOR UPDATE" : ""))
			.param("company", company.value())
			.param("id", id)
			.query((row, n) -> new StagedImport(row.getString("file_name"), row.getString("content"),
					(row.getObject("imported_at") != null)
							? new ImportResult(row.getInt("clients_added"), row.getInt("pools_added"), row.getInt("lines_skipped")) : null))
			.optional()
			.orElseThrow(() -> new NotFound("import"));
	}

}
