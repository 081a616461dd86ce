package org.stopwell.rig.serial;

import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.time.Deadline;

/** A line of bytes to a board, both ways. Used by one thread; {@link #close} by any. */
public interface Link {
  /**
   * What messages call it.
   *
   * @return such as {@code /dev/ttyUSB0}
   */
  String name();

  /**
   * Takes the line for this program alone.
   *
   * @throws BenchException when there is no such line or it is taken
   */
  void open() throws BenchException;

  /**
   * Sends bytes, all of them.
   *
   * @param bytes their buffer, from index 0
   * @param length how many
   * @throws BenchException when the line is gone
   */
  void write(byte[] bytes, int length) throws BenchException;

  /**
   * Waits for bytes.
   *
   * @param into receives what has arrived, from index 0
   * @param deadline when to stop waiting
   * @return how many bytes, 0 when the time is over
   * @throws BenchException when the line is gone and everything that had arrived was read
   */
  int read(byte[] into, Deadline deadline) throws BenchException;

  /** Throws away what has arrived and was not read. */
  void forgetInput();

  /** Lets the line go within bounded time. Never throws; may be called twice. */
  void close();
}
