package org.meniscus.client;

/**
 * Text in a cell that a spreadsheet would take for a formula gets an apostrophe before it, which the importer takes off again:
 * whatever text goes out comes back the same.
 */
final class CsvFormulaEscaper {

	private static final String FORMULA_STARTS = "=+-@\t\r\n";

	private CsvFormulaEscaper() {
	}

	static String escape(String text) {
		return startsFormula(text) ? "'" + text : text;
	}

	static String unescape(String cell) {
		return (cell.startsWith("'") && startsFormula(cell)) ? cell.substring(1) : cell;
	}

	/** Apostrophes before it do not change what it is, so that escaping can be undone without guessing. */
	private static boolean startsFormula(String text) {
		int i = 0;
		while (i < text.length() && text.charAt(i) == '\'') {
			i++;
		}
		return i < text.length() && FORMULA_STARTS.indexOf(text.charAt(i)) >= 0;
	}

}
