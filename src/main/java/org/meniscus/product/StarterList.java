package org.meniscus.product;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.jspecify.annotations.Nullable;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/**
 * The products a new company begins with: generic chemicals in usual packages. Strength, density and usual price of a kind stand
 * with {@link ProductKind}; packages and cautions in {@code starter-products.csv} beside this class. Packages are common
 * practice, no source; the label of the product in hand overrules everything here.
 */
final class StarterList {

	/** @param typicalUsCents middle of the usual price range for the package, US cents */
	record StarterProduct(ProductDetails details, int typicalUsCents) {
	}

	private StarterList() {
	}

	static List<StarterProduct> entries(UnitSystem units) {
		CSVFormat format = CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();
		try (Reader text = new InputStreamReader(StarterList.class.getResourceAsStream("starter-products.csv"), StandardCharsets.UTF_8);
				var rows = format.parse(text)) {
			List<StarterProduct> entries = new ArrayList<>();
			for (CSVRecord row : rows) {
				entries.add(entry(row, units));
			}
			return entries;
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	static String cautions(ProductKind kind) {
		return entries(UnitSystem.METRIC).stream()
			.filter(entry -> entry.details().kind() == kind)
			.map(entry -> Objects.requireNonNullElse(entry.details().cautions(), ""))
			.findFirst()
			.orElse("");
	}

	private static StarterProduct entry(CSVRecord row, UnitSystem units) {
		ProductKind kind = ProductKind.valueOf(row.get("kind"));
		double amount = amount(row.get((units == UnitSystem.US) ? "us_package" : "metric_package"));
		Double strength = kind.strength();
		ProductDetails details = new ProductDetails(kind, row.get("name"), (strength != null) ? strength * 100 : null, kind.basis(),
				kind.density(), amount, null, null, tablet(row.get("tablet_grams")), null, row.get("cautions"),
				row.get("on_truck").equals("yes"),
				ProductPreference.NONE, null);
		double middle = (kind.priceLowCents() + kind.priceHighCents()) / 2.0;
		return new StarterProduct(details, (int) Math.round(middle * amount / kind.pricedAmount()));
	}

	/** "2.5 gal" in millilitres, "50 lb" in grams. */
	private static double amount(String words) {
		String[] parts = words.split(" ");
		double count = Double.parseDouble(parts[0]);
		return switch (parts[1]) {
			case "gal" -> Volume.ofUsGallons(count).millilitres();
			case "qt" -> Volume.ofUsQuarts(count).millilitres();
			case "L" -> count * 1000;
			case "lb" -> Mass.ofPounds(count).grams();
			case "kg" -> count * 1000;
			default -> throw new IllegalArgumentException("not a package: " + words);
		};
	}

	private static @Nullable Double tablet(String grams) {
		return grams.isEmpty() ? null : Double.valueOf(grams);
	}

}
