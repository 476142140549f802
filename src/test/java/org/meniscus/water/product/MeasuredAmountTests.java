package org.meniscus.water.product;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.meniscus.water.units.UnitSystem;

/** Amounts in what a technician has in hand. */
class MeasuredAmountTests {

	private static final double JUG = 2.5 * 3785.411784;

	@Test
	void aWholeJugWhenNearTowardTheSafeSide() {
		Product jugs = Product.usual("jug", ProductKind.LIQUID_CHLORINE_125).withPrice(JUG, 900L);
		MeasuredAmount near = MeasuredAmount.up(0.97 * JUG, jugs, UnitSystem.US);
		assertThat(near.counted()).isEqualTo(new MeasuredAmount.Counted(1, MeasuredAmount.Count.PACKAGE));
		assertThat(near.amount()).isEqualTo(JUG);
		assertThat(MeasuredAmount.down(0.97 * JUG, jugs, UnitSystem.US).counted()).as("never more than asked").isNull();
		assertThat(MeasuredAmount.down(2.03 * JUG, jugs, UnitSystem.US).amount()).isEqualTo(2 * JUG);
		assertThat(MeasuredAmount.up(0.9 * JUG, jugs, UnitSystem.US).counted()).as("too far from a whole one").isNull();
	}

	@Test
	void scoopsInHalvesAndTabletsWhole() {
		Product granular = Product.usual("granular", ProductKind.DICHLOR_56).withScoop(180.0);
		MeasuredAmount scoops = MeasuredAmount.down(500, granular, UnitSystem.METRIC);
		assertThat(scoops.counted()).isEqualTo(new MeasuredAmount.Counted(2.5, MeasuredAmount.Count.SCOOP));
		assertThat(scoops.amount()).isCloseTo(450, within(1e-9));
		assertThat(MeasuredAmount.down(10_000, granular, UnitSystem.METRIC).counted()).as("nobody counts 55 scoops").isNull();
		assertThat(MeasuredAmount.down(50, granular, UnitSystem.METRIC).amount()).as("less than half a scoop is weighed").isEqualTo(50);
		Product tablets = Product.usual("tablets", ProductKind.TRICHLOR_TAB);
		assertThat(MeasuredAmount.down(700, tablets, UnitSystem.US).counted())
			.isEqualTo(new MeasuredAmount.Counted(3, MeasuredAmount.Count.TABLET));
	}

}
