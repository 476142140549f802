package org.meniscus.study.audit;

/** What is looked for in a plan, each counted by itself. */
enum AuditCheck {

	PH_LEFT_OUT("a1", "pH began in 7.2 to 7.8 and settles outside, chlorine of the plan used up"),
	PH_OUT_WITH_CHLORINE("a2", "the same as people may go in first, where acid could hold both; not beside what lifts TA nor at closing"),
	PH_FORGOTTEN("a3", "pH below 7.0 or above 8.0, nothing goes in for it, and nothing says what to bring or why acid or alkali waits"),
	LEFT_OUT_FOR_WANT("a4", "a1, a2, b1 or b2 by more than chlorine, where what would hold it is not along and the plan says what to bring"),
	INDEX_LEFT("b1", "saturation index settles further out of its band than before and than by chlorine alone, pH was in range"),
	INDEX_LEFT_PH_OUT("b2", "the same where pH was out of range; above 8.0 acid comes first down to index -0.6"),
	INDEX_BY_ACID("b3", "an acid step takes the saturation index below -0.6"),
	TABLETS_OFFERED("c1", "offers tablets that the same plan keeps out"),
	FEED_DOWN_AND_UP("c2", "cell or feeder down or off, and offers to raise it"),
	COVER_OFF_AND_ON("c3", "cover off, and offers a cover"),
	DOSE_THEN_DRAIN("c4", "doses water that it says to throw away"),
	TEST_NOT_TRUSTED("c5", "asks for a combined chlorine test while oxidizer makes it false"),
	OXIDIZER_NOT_SAID("c6", "oxidizer goes in and nothing says what it does to the test"),
	HALF_BESIDE_FULL("c7", "says add half beside the full dose"),
	AERATE_WITHOUT_ACID("c8", "aerate and repeat acid that nobody gave, or lift pH and lower it"),
	FORBIDDEN("c9", "gives, names for later or offers what its own words keep out"),
	STABILIZER_OFFERED("c10", "offers stabilizer that the plan gives, has too much of, or keeps out"),
	CHLORINE_REFUSED("c11", "says no chlorine, and doses or offers it"),
	FREE_CHLORINE_WORDS("c12", "speaks of free chlorine in a bromine pool"),
	FROM_TO_SAME("c13", "from a figure to the same figure"),
	HOLD_ABOVE_LABEL("c14", "asks to hold chlorine above what the label allows at once"),
	OUT_OF_PLACE("c15", "words that do not fit here: sun indoors, a feed that is not there, after dosing where nothing was dosed"),
	BEFORE_THE_TEST("c16", "doses slow levels on the day whose water it wants tested again first"),
	DAILY_AND_LATER("c17", "chlorine is brought back each day, and offers an earlier stop or says how it lasts by itself"),
	DRAIN_FOR_LITTLE("c18", "replaces less than a tenth of the water: within the error of the tests"),
	BELOW_MINIMUM("d1", "below the minimum FC afterwards, though chlorine without a ban is along"),
	BELOW_MINIMUM_BAN("d2", "the same where each chlorine along has a ban on a slow side effect"),
	SHORTAGE_UNSAID("d3", "below the minimum FC afterwards, no chlorine along, and nothing says what to bring"),
	BROMINE_LOW("d4", "bromine below its least, oxidizer or liquid chlorine along, and nothing goes in"),
	DOSE_AGAIN("e", "planned again on its own settled result, doses again beyond the error of the test"),
	OPEN_THOUGH_CLOSED("f1", "not closed though a condition for closing holds"),
	CLOCK_WHEN_CLOSED("f2", "closed, and gives a time by the clock"),
	CLOSED_NOT_FIRST("f3", "closed, and does not say so first"),
	JUMP("g", "one test step of one reading changes a dose by more than 35 % of a usual one, no limit crossed"),
	AMOUNT("h1", "amount and its parts differ, wrong units, or less than wanted without a word of the rest"),
	LEVELS("h2", "levels printed after a step differ from the checker's"),
	ABOVE_MOST("h3", "more in one addition than the product's most"),
	SCARCE("i1", "scarce water: replaces more than brings every level into its range, or offers to where each is in it"),
	STRIP_DECIDES("i2", "replaces water, or offers to, on what was read on a strip"),
	CELL_ABOVE_RATING("i3", "asks more of a cell than its plate says, above 100 % or 24 hours, in cold water, or where there is none"),
	IONIZER_COPPER("i4", "copper ionizer: copper above 0.2 ppm or not tested and nothing said, or more copper"),
	AMMONIA_CHLORINE("i5", "ammonia: less chlorine than it takes though it is along and no word of the rest, or stabilizer"),
	METAL_FIRST("i6", "metal that stains: chlorine or alkali before the sequestrant, more than protects the pool, calcium hypochlorite"),
	PHOSPHATE_FIRST("i7", "phosphate remover where the water is not clear, lacks chlorine or alkalinity, or beside a sequestrant"),
	STORED("i8", "stored liquid chlorine without a word of its strength, or of its age where it has lost four tenths"),
	GAUGES("i9", "a filter 8 psi above clean or a pump that does not turn the water over, and nothing said; or the contrary"),
	ACID_DEMAND("i10", "lets alkalinity fall, or speaks of weekly acid, beside what lifts it; borate where there is enough");

	private final String key;

	private final String text;

	AuditCheck(String key, String text) {
		this.key = key;
		this.text = text;
	}

	String key() {
		return this.key;
	}

	String text() {
		return this.text;
	}

	/** @param detail with the figures */
	record Finding(AuditCheck check, String detail) {
	}

}
