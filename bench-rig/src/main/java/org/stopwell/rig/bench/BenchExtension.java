package org.stopwell.rig.bench;

/**
 * The door for benches from outside. A jar or directory that is given with {@code --extensions}
 * names its implementation in {@code META-INF/services/org.stopwell.rig.bench.BenchExtension}.
 */
public interface BenchExtension {
  /**
   * The word for {@code --bench}.
   *
   * @return lower case; {@link BenchDescription#kind()} of the bench is the same word
   */
  String name();

  /**
   * Whether as many benches as wanted can be made, and none waits for a clock.
   *
   * @return false for hardware, of which there is one
   */
  boolean simulated();

  /**
   * Makes a bench.
   *
   * @param where where and how it is reached
   * @return a bench that is not open yet
   * @throws BenchException when it cannot be made
   */
  Bench make(BenchAddress where) throws BenchException;
}
