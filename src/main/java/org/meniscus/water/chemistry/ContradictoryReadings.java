package org.meniscus.water.chemistry;

/** Stabilizer, borate and chlorine alone would hold more alkalinity at this pH than the total alkalinity that was read. */
public class ContradictoryReadings extends IllegalArgumentException {

	private static final long serialVersionUID = 1L;

	private final double totalAlkalinity;

	private final double heldWithoutCarbonate;

	ContradictoryReadings(double ph, double totalAlkalinity, double heldWithoutCarbonate) {
		super("at pH " + ph + " stabilizer, borate and chlorine alone hold " + Math.round(heldWithoutCarbonate)
				+ " mg/L of alkalinity, but total alkalinity was read as " + totalAlkalinity + " mg/L: repeat the tests");
		this.totalAlkalinity = totalAlkalinity;
		this.heldWithoutCarbonate = heldWithoutCarbonate;
	}

	/** As read, mg/L CaCO3. */
	public double totalAlkalinity() {
		return this.totalAlkalinity;
	}

	/** The least that TA can be with the other readings, mg/L CaCO3. */
	public double heldWithoutCarbonate() {
		return this.heldWithoutCarbonate;
	}

}
