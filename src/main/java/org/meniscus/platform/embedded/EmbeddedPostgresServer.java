package org.meniscus.platform.embedded;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.SecureRandom;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.Properties;
import java.util.concurrent.TimeUnit;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.util.FileSystemUtils;

/**
 * One PostgreSQL server in one folder. The folder is locked by this process, so a server still running in it was left by a
 * killed process and is stopped first. Every role has a password of its own, kept in the folder and readable by its owner only.
 */
final class EmbeddedPostgresServer implements AutoCloseable {

	static final String DATABASE = "meniscus";

	static final String OWNER_ROLE = "app_owner";

	static final String RUNTIME_ROLE = "app_rw";

	private static final Logger log = LoggerFactory.getLogger(EmbeddedPostgresServer.class);

	private static final Duration START_WAIT = Duration.ofSeconds(60);

	private final Path home;

	private final FileChannel lockFile;

	private final EmbeddedPostgres server;

	private final Properties passwords;

	private EmbeddedPostgresServer(Path home, FileChannel lockFile, EmbeddedPostgres server, Properties passwords) {
		this.home = home;
		this.lockFile = lockFile;
		this.server = server;
		this.passwords = passwords;
	}

	/**
	 * @param home folder for binaries, data and passwords; made when missing
	 * @param durable false only for tests: commits are then not forced to disk
	 */
	static EmbeddedPostgresServer start(Path home, boolean durable) {
		FileChannel lock = null;
		try {
			Files.createDirectories(home);
			if (Files.getFileStore(home).supportsFileAttributeView("posix")) {
				Files.setPosixFilePermissions(home, PosixFilePermissions.fromString("rwx------"));
			}
			lock = lock(home);
			Path data = home.resolve("pg18");
			Path ready = home.resolve("pg18.ready");
			Path secrets = home.resolve("passwords.properties");
			if (!Files.exists(ready)) {
				// never finished its first start: nothing can have been stored in it
				FileSystemUtils.deleteRecursively(data);
				Files.deleteIfExists(secrets);
			}
			stopOrphanedServer(data);
			Properties passwords = Files.exists(ready) ? read(secrets) : new Properties();
			EmbeddedPostgres server = builder(home, data, durable, passwords).start();
			EmbeddedPostgresServer started = new EmbeddedPostgresServer(home, lock, server, passwords);
			if (!Files.exists(ready)) {
				started.initialize(data, secrets);
				Files.writeString(ready, "The first start finished; PostgreSQL 18 data is in pg18.\n");
			}
			return started;
		}
		catch (IOException | SQLException | RuntimeException ex) {
			closeQuietly(lock);
			if (ex instanceof DatabaseFolderUnusable unusable) {
				throw unusable;
			}
			throw new DatabaseFolderUnusable(
					"The embedded database in " + home + " did not start: " + rootMessage(ex), ex);
		}
	}

	private static EmbeddedPostgres.Builder builder(Path home, Path data, boolean durable, Properties passwords) {
		EmbeddedPostgres.Builder builder = EmbeddedPostgres.builder()
			.setOverrideWorkingDirectory(home.resolve("bin").toFile())
			.setDataDirectory(data)
			.setCleanDataDirectory(false)
			.setRegisterShutdownHook(false)
			.setPGStartupWait(START_WAIT)
			.setServerConfig("fsync", durable ? "on" : "off")
			.setServerConfig("synchronous_commit", durable ? "on" : "off")
			.setServerConfig("max_connections", "60")
			.setServerConfig("listen_addresses", "127.0.0.1")
			.setServerConfig("unix_socket_directories", "''")
			.setServerConfig("timezone", "UTC")
			.setLocaleConfig("locale-provider", "builtin")
			.setLocaleConfig("builtin-locale", "C.UTF-8")
			.setLocaleConfig("locale", "C");
		String password = passwords.getProperty("postgres");
		return (password != null) ? builder.setConnectConfig("password", password) : builder;
	}

	/** First start: database and roles, each with a random password, and passwords asked for from then on. */
	private void initialize(Path data, Path secrets) throws SQLException, IOException {
		for (String role : List.of("postgres", OWNER_ROLE, RUNTIME_ROLE)) {
			passwords.setProperty(role, randomPassword());
		}
		try (Connection connection = server.getPostgresDatabase().getConnection();
				Statement sql = connection.createStatement()) {
			sql.execute("CREATE ROLE " + OWNER_ROLE + " LOGIN PASSWORD '" + passwords.getProperty(OWNER_ROLE) + "'");
			sql.execute("CREATE ROLE " + RUNTIME_ROLE + " LOGIN PASSWORD '" + passwords.getProperty(RUNTIME_ROLE) + "'");
			sql.execute("CREATE DATABASE " + DATABASE + " OWNER " + OWNER_ROLE);
			sql.execute("ALTER ROLE postgres PASSWORD '" + passwords.getProperty("postgres") + "'");
			try (var out = Files.newOutputStream(secrets, StandardOpenOption.CREATE, StandardOpenOption.TRUNCATE_EXISTING)) {
				passwords.store(out, "Passwords of the embedded database's roles");
			}
			if (Files.getFileStore(secrets).supportsFileAttributeView("posix")) {
				Files.setPosixFilePermissions(secrets, PosixFilePermissions.fromString("rw-------"));
			}
			Files.writeString(data.resolve("pg_hba.conf"), "host all all 127.0.0.1/32 scram-sha-256\n");
			sql.execute("SELECT pg_reload_conf()");
		}
	}

	/** The folder that holds everything of it. */
	Path home() {
		return home;
	}

	String url() {
		return "jdbc:postgresql://127.0.0.1:" + server.getPort() + "/" + DATABASE;
	}

	String password(String role) {
		return passwords.getProperty(role);
	}

	@Override
	public void close() throws IOException {
		try {
			server.close();
		}
		finally {
			lockFile.close();
		}
	}

	private static FileChannel lock(Path home) throws IOException {
		FileChannel channel = FileChannel.open(home.resolve("lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
		FileLock lock;
		try {
			lock = channel.tryLock();
		}
		catch (OverlappingFileLockException ex) {
			lock = null;
		}
		if (lock == null) {
			channel.close();
			throw new DatabaseFolderUnusable("The data folder " + home
					+ " is in use by another running service. Stop that one, or choose another folder with meniscus.database.home.", null);
		}
		return channel;
	}

	/** A killed service leaves its PostgreSQL running; a crashed machine leaves a stale process number. */
	private static void stopOrphanedServer(Path data) throws IOException {
		Path pidFile = data.resolve("postmaster.pid");
		if (!Files.exists(pidFile)) {
			return;
		}
		List<String> lines = Files.readAllLines(pidFile);
		Optional<ProcessHandle> process = lines.isEmpty() ? Optional.empty() : ProcessHandle.of(Long.parseLong(lines.get(0).strip()));
		boolean ours = process.flatMap(handle -> handle.info().command())
			.filter(command -> command.endsWith("/postgres"))
			.isPresent();
		if (process.isPresent() && ours) {
			log.info("Stopping the database server that a killed process left running");
			stop(process.get());
		}
		Files.deleteIfExists(pidFile);
	}

	private static void stop(ProcessHandle postmaster) throws IOException {
		try {
			// SIGINT is PostgreSQL's fast stop; destroy() sends SIGTERM, which waits for open connections
			new ProcessBuilder("kill", "-INT", Long.toString(postmaster.pid())).start().waitFor();
			postmaster.onExit().get(15, TimeUnit.SECONDS);
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
		}
		catch (java.util.concurrent.ExecutionException | java.util.concurrent.TimeoutException ex) {
			throw new DatabaseFolderUnusable("A database server left running by a killed process (number " + postmaster.pid()
					+ ") does not stop. Stop it by hand and start again.", ex);
		}
	}

	private static Properties read(Path file) throws IOException {
		Properties properties = new Properties();
		try (var in = Files.newInputStream(file)) {
			properties.load(in);
		}
		return properties;
	}

	private static String randomPassword() {
		byte[] bytes = new byte[24];
		new SecureRandom().nextBytes(bytes);
		return HexFormat.of().formatHex(bytes);
	}

	private static String rootMessage(Throwable thrown) {
		Throwable cause = thrown;
		while (cause.getCause() != null) {
			cause = cause.getCause();
		}
		// of a file fault the message is only the file's name
		return (cause instanceof FileSystemException || cause.getMessage() == null) ? cause.toString() : cause.getMessage();
	}

	private static void closeQuietly(@Nullable FileChannel channel) {
		if (channel != null) {
			try {
				channel.close();
			}
			catch (IOException ex) {
				log.debug("could not release the folder's lock", ex);
			}
		}
	}

}
