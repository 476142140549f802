package org.meniscus.route;

/** The stop is done or missed, so what was asked of it is no longer possible; nothing was changed. */
public class StopClosed extends RuntimeException {

	private final StopState state;

	StopClosed(StopState state) {
		super("the stop is " + state);
		this.state = state;
	}

	public StopState state() {
		return state;
	}

}
