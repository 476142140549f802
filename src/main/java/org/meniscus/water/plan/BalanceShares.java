package org.meniscus.water.plan;

/** Shares of what lowers and of what lifts the balance as a side effect: stabilizer gives way before oxidizer. */
record BalanceShares(double oxidizer, double stabilizer, double lifting) {

	static final BalanceShares ALL = new BalanceShares(1, 1, 1);

	double of(DosingSequence.DosingGoal goal) {
		return switch (goal.purpose()) {
			case OXIDIZE -> this.oxidizer;
			case RAISE_CYA -> this.stabilizer;
			case RAISE_TA, RAISE_CH -> this.lifting;
			default -> 1;
		};
	}

	BalanceShares times(BalanceShares other) {
		return new BalanceShares(this.oxidizer * other.oxidizer, this.stabilizer * other.stabilizer, this.lifting * other.lifting);
	}

	/** With nothing of what is less than whole. */
	BalanceShares wholeOrNone() {
		return new BalanceShares(Math.floor(this.oxidizer), Math.floor(this.stabilizer), Math.floor(this.lifting));
	}

	boolean isAll() {
		return this.equals(ALL);
	}

}
