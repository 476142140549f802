package org.meniscus.client;

import org.jspecify.annotations.Nullable;

/**
 * Where a pool is.
 *
 * @param latitude degrees north, -90 to 90, or null
 * @param longitude degrees east, -180 to 180, or null; both are known or none
 */
public record Place(String street, String town, String postcode, @Nullable Double latitude, @Nullable Double longitude) {

	public static final int STREET_MAX = 200;

	public static final int TOWN_MAX = 120;

	public static final int POSTCODE_MAX = 20;

	/** @throws IllegalArgumentException when a text is too long, a degree out of range or only one of the two is given */
	public Place {
		street = TextNormalizer.singleLine(street);
		town = TextNormalizer.singleLine(town);
		postcode = TextNormalizer.singleLine(postcode);
		Preconditions.checkLength("street", street, 0, STREET_MAX);
		Preconditions.checkLength("town", town, 0, TOWN_MAX);
		Preconditions.checkLength("postcode", postcode, 0, POSTCODE_MAX);
		Preconditions.checkRange("latitude", latitude, -90, 90);
		Preconditions.checkRange("longitude", longitude, -180, 180);
		if ((latitude == null) != (longitude == null)) {
			throw new IllegalArgumentException("latitude and longitude go together");
		}
	}

}
