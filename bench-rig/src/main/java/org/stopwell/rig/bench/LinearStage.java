package org.stopwell.rig.bench;

/**
 * The stage that carries the file: forward is towards the foramen, and places are counted from its
 * home switch. Every wait has an end; what goes wrong is a {@link BenchException} with the cause
 * {@code STAGE}, or that of the link.
 */
public interface LinearStage {
  /**
   * How the stage is.
   *
   * @param busy it still moves
   * @param homed whether its place is known
   * @param positionMicrons place from home, µm
   * @param leastMicrons the nearest place it may be sent to, µm
   * @param mostMicrons the furthest, µm
   * @param fastestMicronsPerSecond the fastest it may be sent, µm/s
   * @param why activity, or reason for rest: a word of the wire protocol
   */
  record Status(
      boolean busy,
      boolean homed,
      int positionMicrons,
      int leastMicrons,
      int mostMicrons,
      long fastestMicronsPerSecond,
      String why) {}

  /**
   * Goes to the home switch and counts from there. Waits for the end.
   *
   * @return how the stage is then
   * @throws BenchException when it does not find it, or not in time
   */
  Status home() throws BenchException;

  /**
   * Goes to a place and waits until it is there. It arrives moving forward, so that play in its
   * screw does not count.
   *
   * @param positionMicrons where to, from home, µm
   * @param micronsPerSecond how fast, µm/s
   * @return how the stage is then
   * @throws BenchException when the place or the speed cannot be, or it did not arrive in time
   */
  Status moveTo(int positionMicrons, int micronsPerSecond) throws BenchException;

  /**
   * Sets out for a place and does not wait.
   *
   * @param positionMicrons where to, from home, µm
   * @param micronsPerSecond how fast, µm/s
   * @return how the stage is now
   * @throws BenchException when the place or the speed cannot be
   */
  Status setOut(int positionMicrons, int micronsPerSecond) throws BenchException;

  /**
   * Feeds the file of a device under test from the present place, as the hand of the mounted scene
   * does. The board itself goes on and stops by what the device board senses.
   *
   * @param mostMicrons place from home that it does not pass, µm
   * @return how the stage is now
   * @throws BenchException when the stage cannot move so
   */
  default Status feed(int mostMicrons) throws BenchException {
    throw new BenchException(
        BenchException.RigFault.REFUSED, "stage: this stage does not feed a device under test");
  }

  /**
   * Comes to rest, and does not wait for it.
   *
   * @return how the stage is now
   * @throws BenchException when the link fails
   */
  Status stop() throws BenchException;

  /**
   * How it is.
   *
   * @return how the stage is now
   * @throws BenchException when the link fails
   */
  Status status() throws BenchException;
}
