package org.stopwell.harness.campaign;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.function.BooleanSupplier;

/**
 * A request of another program to end a campaign safely: a file in its run directory. The requester
 * cannot withdraw it; only {@code resume}, on the machine itself, removes it. It is not an
 * emergency stop.
 */
public final class StopRequest implements BooleanSupplier {
  /** Name of the file. */
  public static final String NAME = "stop-requested";

  /** Asked at every step of a trial; looking at the disk that often would slow a virtual bench. */
  private static final int LOOK_EVERY = 1024;

  private final Path file;
  private final BooleanSupplier other;
  private volatile boolean seen;
  private int asked;

  /**
   * A request that has not been made yet.
   *
   * @param directory the run directory
   * @param other another reason to stop
   */
  public StopRequest(Path directory, BooleanSupplier other) {
    this.file = directory.resolve(NAME);
    this.other = other;
  }

  /**
   * Whether a stop was requested. Several threads can ask; a lost count between them does no harm.
   *
   * @return true from the first request on
   */
  @Override
  public boolean getAsBoolean() {
    if (!seen && asked++ % LOOK_EVERY == 0) {
      seen = Files.exists(file);
    }
    return seen || other.getAsBoolean();
  }

  /**
   * Asks a campaign to stop.
   *
   * @param directory its run directory
   * @throws IOException when the request cannot be written
   */
  public static void make(Path directory) throws IOException {
    Files.write(directory.resolve(NAME), new byte[0]);
  }

  /**
   * Whether a campaign was asked to stop.
   *
   * @param directory its run directory
   * @return true when the request is there
   */
  public static boolean isMade(Path directory) {
    return Files.exists(directory.resolve(NAME));
  }

  /**
   * Removes the request before a campaign resumes.
   *
   * @param directory its run directory
   * @throws IOException when the directory refuses
   */
  public static void clear(Path directory) throws IOException {
    Files.deleteIfExists(directory.resolve(NAME));
  }
}
