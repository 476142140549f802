package org.meniscus.client;

import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * One row of a file of clients and pools. When there are problems the details are null.
 *
 * @param line line of the file, from 1, in which the row begins
 * @param pool null for a client without a pool
 */
record CsvRow(int line, @Nullable ClientDetails client, @Nullable PoolDetails pool, List<CsvProblem> problems) {

	/** Stands in for the client until it is known which one it is. */
	static final ClientId UNASSIGNED_CLIENT = new ClientId(new java.util.UUID(0, 0));

	CsvRow {
		problems = List.copyOf(problems);
	}

}
