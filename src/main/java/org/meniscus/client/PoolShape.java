package org.meniscus.client;

/** Outline of a pool, as far as it is needed to work out area and volume. */
public enum PoolShape {

	/** Length × width. Exact. */
	RECTANGLE(1, true),
	/** A circle: π/4 × diameter × diameter. Exact; length is the diameter. */
	ROUND(Math.PI / 4, true),
	/** An ellipse: π/4 × length × width. Exact for an ellipse; straight-sided ovals hold more. */
	OVAL(Math.PI / 4, true),
	/** 0.9 × length × mean of the widths of its two ends. Common practice, no source; so the result is an estimate. */
	KIDNEY(0.9, false);

	private final double factor;

	private final boolean exact;

	PoolShape(double factor, boolean exact) {
		this.factor = factor;
		this.exact = exact;
	}

	/** Share of the surrounding rectangle that the outline covers. */
	public double factor() {
		return factor;
	}

	/** Whether the factor is geometry and not a rule of thumb. */
	public boolean exactFactor() {
		return exact;
	}

}
