package org.meniscus.platform;

import java.io.Serializable;
import java.util.UUID;

/** Primary key of every business row: the company leads. Used as {@code @IdClass}. */
public record RowId(UUID companyId, UUID id) implements Serializable {
}
