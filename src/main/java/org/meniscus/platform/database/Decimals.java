package org.meniscus.platform.database;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.sql.ResultSet;
import java.sql.SQLException;

import org.jspecify.annotations.Nullable;

/** Figures to and from columns of the database's decimal type. */
public final class Decimals {

	private Decimals() {
	}

	/** Rounded half up to the decimals of its column. */
	public static BigDecimal scaled(double value, int decimals) {
		return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP);
	}

	public static @Nullable BigDecimal scaled(@Nullable Double value, int decimals) {
		return (value != null) ? scaled(value.doubleValue(), decimals) : null;
	}

	public static @Nullable Double number(@Nullable BigDecimal value) {
		return (value != null) ? value.doubleValue() : null;
	}

	public static @Nullable Double number(ResultSet row, String column) throws SQLException {
		return number(row.getBigDecimal(column));
	}

}
