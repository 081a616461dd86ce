package org.stopwell.rig.wire;

import java.util.function.ToLongFunction;

/**
 * What a board may state as its times. A host never waits longer than these bounds, whatever a
 * board states.
 */
public enum TimeBound {
  /** The control period. */
  PERIOD(
      "period_ns",
      BoardIdentity::periodNs,
      100_000,
      50_000_000,
      "A longer period exceeds the step gap that a controller tolerates (`guard.step_gap_ms`, 50 ms"
          + " by default)."),
  /** The watchdog. */
  WATCHDOG(
      "watchdog_ns",
      BoardIdentity::watchdogNs,
      1_000_000,
      100_000_000,
      "A motor turns for at most 100 ms without a command."),
  /** The silence. */
  SILENCE(
      "silence_ns",
      BoardIdentity::silenceNs,
      10_000_000,
      2_000_000_000,
      "The host waits at most 2 s for an answer.");

  private final String field;

  @SuppressWarnings("ImmutableEnumChecker") // a method of a record, without state
  private final ToLongFunction<BoardIdentity> value;

  private final long leastNs;
  private final long mostNs;
  private final String text;

  TimeBound(
      String field, ToLongFunction<BoardIdentity> value, long leastNs, long mostNs, String text) {
    this.field = field;
    this.value = value;
    this.leastNs = leastNs;
    this.mostNs = mostNs;
    this.text = text;
  }

  /**
   * The field of {@link Message#IDENTITY} that it bounds.
   *
   * @return its name
   */
  public String field() {
    return field;
  }

  /**
   * The least that is accepted.
   *
   * @return ns
   */
  public long leastNs() {
    return leastNs;
  }

  /**
   * The most that is accepted.
   *
   * @return ns
   */
  public long mostNs() {
    return mostNs;
  }

  /**
   * Why there is a bound.
   *
   * @return a sentence for the protocol page
   */
  public String text() {
    return text;
  }

  /**
   * What a board states.
   *
   * @param board the board
   * @return ns
   */
  public long of(BoardIdentity board) {
    return value.applyAsLong(board);
  }

  /**
   * Whether a board keeps the bound.
   *
   * @param board the board
   * @return true within the bound
   */
  public boolean allows(BoardIdentity board) {
    long stated = of(board);
    return stated >= leastNs && stated <= mostNs;
  }
}
