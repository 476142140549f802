package org.meniscus.visit;

import java.time.Instant;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;
import org.meniscus.product.ProductId;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;

/**
 * A visit as it comes from the phone.
 *
 * @param performedAt by the phone's clock
 * @param clockOffsetMillis phone's clock minus the server's, null when not known
 * @param advice the plan as it was shown, JSON
 * @param photos JPEG, already made small and stripped of everything but the picture; at most {@value #PHOTOS_MAX}
 */
public record NewVisit(VisitId id, PoolId pool, PersonId technician, @Nullable UUID stop, Instant performedAt,
		@Nullable Long clockOffsetMillis, Situation situation, Readings readings, @Nullable Double waterReplaced,
		List<NewDose> doses, List<String> tasks, @Nullable String noteToClient, @Nullable String noteToOffice,
		@Nullable String advice, List<Photo> photos) {

	public static final int PHOTOS_MAX = 6;

	public NewVisit {
		doses = List.copyOf(doses);
		tasks = List.copyOf(tasks);
		photos = List.copyOf(photos);
		if (photos.size() > PHOTOS_MAX) {
			throw new IllegalArgumentException("more than " + PHOTOS_MAX + " photos");
		}
	}

	/** @param amount grams or millilitres, above zero */
	public record NewDose(ProductId product, double amount, @Nullable Double plannedAmount) {

		public NewDose {
			if (!(amount > 0) || Double.isInfinite(amount)) {
				throw new IllegalArgumentException("not an amount: " + amount);
			}
		}

	}

	/**
	 * @param originalSha256 SHA-256 of the file as it was sent: what a repeat is known by, whatever the picture was made into
	 */
	public record Photo(byte[] jpeg, int width, int height, byte[] originalSha256) {
	}

}
