package org.meniscus.platform;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;

import org.jspecify.annotations.Nullable;

/**
 * The company, or the lookup key, that the current thread works for. Every transaction begun inside {@link #runAs} sees that
 * company's rows and no others; outside of it the database shows nothing. It must not change within a transaction.
 */
public final class TenantContext {

	private static final ThreadLocal<@Nullable TenantScope> SCOPE = new ThreadLocal<>();

	private TenantContext() {
	}

	/** What is set in the database at the start of a transaction. */
	public sealed interface TenantScope {

		record CompanyScope(CompanyId id) implements TenantScope {
		}

		/** 64 hex digits: shows the one row of a lookup table whose key hashes to it. */
		record LookupScope(String hexSha256) implements TenantScope {

			public LookupScope {
				if (!hexSha256.matches("[0-9a-f]{64}")) {
					throw new IllegalArgumentException("not a lookup key");
				}
			}

		}

	}

	public static Optional<TenantScope> current() {
		return Optional.ofNullable(SCOPE.get());
	}

	/** Runs the work for one company. */
	public static <T extends @Nullable Object> T runAs(CompanyId company, Supplier<T> work) {
		return runIn(new TenantScope.CompanyScope(company), work);
	}

	/** Runs the work for one company. */
	public static void runAs(CompanyId company, Runnable work) {
		runAs(company, () -> {
			work.run();
			return true;
		});
	}

	/** Runs a look-up by a key that is known before its company is: a sign-in address or a report link. */
	public static <T extends @Nullable Object> T runLookup(byte[] sha256, Supplier<T> work) {
		return runIn(new TenantScope.LookupScope(HexFormat.of().formatHex(sha256)), work);
	}

	/** SHA-256 of a sign-in address, lower-cased, as the lookup policy on {@code login} computes it. */
	public static byte[] lookupKey(String email) {
		return sha256(email.toLowerCase(Locale.ROOT).getBytes(StandardCharsets.UTF_8));
	}

	public static byte[] sha256(byte[] bytes) {
		try {
			return MessageDigest.getInstance("SHA-256").digest(bytes);
		}
		catch (NoSuchAlgorithmException ex) {
			throw new IllegalStateException("every Java platform has SHA-256", ex);
		}
	}

	private static <T extends @Nullable Object> T runIn(TenantScope scope, Supplier<T> work) {
		TenantScope before = SCOPE.get();
		SCOPE.set(scope);
		try {
			return work.get();
		}
		finally {
			if (before == null) {
				SCOPE.remove();
			}
			else {
				SCOPE.set(before);
			}
		}
	}

}
