package org.meniscus.ui;

import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.TestKit;

/** Names of levels as pages print them. Each name stands once, in the texts of {@code water}. */
public final class LevelNames {

	private LevelNames() {
	}

	/** "FC", "pH". */
	public static String code(Level level, Wording.Texts texts) {
		return texts.text("water.level.code." + level.name());
	}

	/** "Free chlorine (FC)", "pH". */
	public static String nameWithCode(Level level, Wording.Texts texts) {
		String name = texts.text(Wording.levelKey(level));
		String code = code(level, texts);
		return name.contains(code) ? name : name + " (" + code + ")";
	}

	/** "Free chlorine (FC), ppm", "pH": for the label of a field. */
	public static String nameWithUnit(Level level, Wording.Texts texts) {
		String name = nameWithCode(level, texts);
		if (level == Level.BORATE) {
			return name + ", " + texts.text("water.level.unit.boron");
		}
		return switch (level.unit()) {
			case PPM -> name + ", ppm";
			case PPB -> name + ", ppb";
			default -> name;
		};
	}

	/** "Drops, 25 mL", "Tube": what a level is read with. */
	public static String test(Level level, TestKit kit, Wording.Texts texts) {
		String usual = switch (level) {
			case CYA -> "TUBE";
			case SALT -> "METER";
			case PH, PHOSPHATE, COPPER, IRON, MANGANESE, AMMONIA -> "COLOR";
			default -> kit.name();
		};
		return texts.text("water.kit." + ((kit == TestKit.DROPS_25_ML) ? usual : kit.name()));
	}

	/** For a reader without the trade's words: "Used-up chlorine". */
	public static String plainName(Level level, Wording.Texts texts) {
		return texts.text("water.level.plain." + level.name());
	}

}
