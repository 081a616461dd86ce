package org.stopwell.harness.console;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;

/**
 * What a run does now, for watchers. It is opened when the first watcher of the run comes and
 * closed when the last one has left; in between one thread asks up to 50 times a second.
 */
public interface LiveSource extends AutoCloseable {
  /**
   * The newest state of the run, made once for all watchers. Every frame must stand alone, because
   * a watcher gets all, some or few of them.
   *
   * @return one line of UTF-8 without a line break, or empty when nothing has changed since the
   *     last call; at once, without waiting for the bench
   * @throws IOException when the feed cannot be read any more; its watchers are sent away
   */
  Optional<byte[]> next() throws IOException;

  /** Nobody watches any more. */
  @Override
  void close();

  /** Opens the source of a run. */
  @FunctionalInterface
  interface Opener {
    /**
     * Opens it.
     *
     * @param run the run directory
     * @return the source, or empty when the run has no live feed
     * @throws IOException when its feed cannot be read
     */
    Optional<LiveSource> open(Path run) throws IOException;
  }
}
