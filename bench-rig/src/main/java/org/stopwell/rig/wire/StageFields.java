package org.stopwell.rig.wire;

import static org.stopwell.rig.wire.Message.STAGE;

/**
 * How a stage is: {@link Message#STAGE} as a record.
 *
 * @param state activity, or reason for rest
 * @param homed whether its place is known
 * @param atHome whether the home switch is open
 * @param atFarLimit whether the far limit switch is open
 * @param positionMicrons place from home, positive: forward, µm
 * @param leastMicrons the nearest place it may be sent to, µm
 * @param mostMicrons the furthest, µm
 * @param fastestMicronsPerSecond the fastest it may be sent, µm/s
 */
public record StageFields(
    StageState state,
    boolean homed,
    boolean atHome,
    boolean atFarLimit,
    int positionMicrons,
    int leastMicrons,
    int mostMicrons,
    long fastestMicronsPerSecond) {
  private static final int STATE = STAGE.index("state");
  private static final int HOMED = STAGE.index("homed");
  private static final int AT_HOME = STAGE.index("at_home");
  private static final int AT_FAR_LIMIT = STAGE.index("at_far_limit");
  private static final int POSITION = STAGE.index("position_microns");
  private static final int LEAST = STAGE.index("least_microns");
  private static final int MOST = STAGE.index("most_microns");
  private static final int FASTEST = STAGE.index("fastest_microns_per_second");

  /**
   * Fills a packet that has begun as the state of a stage.
   *
   * @param packet receives the fields
   */
  public void put(Packet packet) {
    packet
        .set(STATE, state.ordinal())
        .set(HOMED, homed)
        .set(AT_HOME, atHome)
        .set(AT_FAR_LIMIT, atFarLimit)
        .set(POSITION, positionMicrons)
        .set(LEAST, leastMicrons)
        .set(MOST, mostMicrons)
        .set(FASTEST, fastestMicronsPerSecond);
  }

  /**
   * Reads the state of a stage.
   *
   * @param packet a state of a stage
   * @return the record
   */
  public static StageFields get(Packet packet) {
    return new StageFields(
        StageState.values()[packet.integer(STATE)],
        packet.flag(HOMED),
        packet.flag(AT_HOME),
        packet.flag(AT_FAR_LIMIT),
        packet.integer(POSITION),
        packet.integer(LEAST),
        packet.integer(MOST),
        packet.number(FASTEST));
  }
}
