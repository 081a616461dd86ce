package org.stopwell.rig.wire;

import static org.stopwell.rig.wire.Message.IDENTITY;

/**
 * Identity and abilities of a board: {@link Message#IDENTITY} as a record.
 *
 * @param protocol version of the protocol that it speaks
 * @param board what sort of board it is
 * @param serialNumber identity of this one board
 * @param firmware name of the firmware
 * @param firmwareVersion its version
 * @param firmwareHash hash of what really runs
 * @param simulated whether readings come from a model
 * @param lockstep whether board time waits for the exchanges
 * @param hasTruth whether the true fields of a reading are filled
 * @param hasPosition whether a reading contains the position of the tip
 * @param hasMotor whether there is a motor
 * @param hasStage whether there is a stage
 * @param readsTooth whether it measures the impedance of an extracted tooth
 * @param mostSteps how long a table of steps it takes; 0 when it takes none
 * @param periodNs control period that it is made for, ns
 * @param watchdogNs board time without an exchange until the motor goes off, ns
 * @param silenceNs time by the board's own clock until it does, ns
 */
public record BoardIdentity(
    int protocol,
    String board,
    String serialNumber,
    String firmware,
    String firmwareVersion,
    String firmwareHash,
    boolean simulated,
    boolean lockstep,
    boolean hasTruth,
    boolean hasPosition,
    boolean hasMotor,
    boolean hasStage,
    boolean readsTooth,
    int mostSteps,
    long periodNs,
    long watchdogNs,
    long silenceNs) {
  private static final int PROTOCOL = IDENTITY.index("protocol");
  private static final int BOARD = IDENTITY.index("board");
  private static final int SERIAL_NUMBER = IDENTITY.index("serial_number");
  private static final int FIRMWARE = IDENTITY.index("firmware");
  private static final int FIRMWARE_VERSION = IDENTITY.index("firmware_version");
  private static final int FIRMWARE_HASH = IDENTITY.index("firmware_hash");
  private static final int SIMULATED = IDENTITY.index("simulated");
  private static final int LOCKSTEP = IDENTITY.index("lockstep");
  private static final int HAS_TRUTH = IDENTITY.index("has_truth");
  private static final int HAS_POSITION = IDENTITY.index("has_position");
  private static final int HAS_MOTOR = IDENTITY.index("has_motor");
  private static final int HAS_STAGE = IDENTITY.index("has_stage");
  private static final int READS_TOOTH = IDENTITY.index("reads_tooth");
  private static final int MOST_STEPS = IDENTITY.index("most_steps");
  private static final int PERIOD = IDENTITY.index("period_ns");
  private static final int WATCHDOG = IDENTITY.index("watchdog_ns");
  private static final int SILENCE = IDENTITY.index("silence_ns");

  /**
   * Fills a packet that has begun as an identity.
   *
   * @param packet receives the fields
   */
  public void put(Packet packet) {
    packet
        .set(PROTOCOL, protocol)
        .set(BOARD, board)
        .set(SERIAL_NUMBER, serialNumber)
        .set(FIRMWARE, firmware)
        .set(FIRMWARE_VERSION, firmwareVersion)
        .set(FIRMWARE_HASH, firmwareHash)
        .set(SIMULATED, simulated)
        .set(LOCKSTEP, lockstep)
        .set(HAS_TRUTH, hasTruth)
        .set(HAS_POSITION, hasPosition)
        .set(HAS_MOTOR, hasMotor)
        .set(HAS_STAGE, hasStage)
        .set(READS_TOOTH, readsTooth)
        .set(MOST_STEPS, mostSteps)
        .set(PERIOD, periodNs)
        .set(WATCHDOG, watchdogNs)
        .set(SILENCE, silenceNs);
  }

  /**
   * Reads an identity.
   *
   * @param packet an identity
   * @return the record
   */
  public static BoardIdentity get(Packet packet) {
    return new BoardIdentity(
        packet.integer(PROTOCOL),
        packet.text(BOARD),
        packet.text(SERIAL_NUMBER),
        packet.text(FIRMWARE),
        packet.text(FIRMWARE_VERSION),
        packet.text(FIRMWARE_HASH),
        packet.flag(SIMULATED),
        packet.flag(LOCKSTEP),
        packet.flag(HAS_TRUTH),
        packet.flag(HAS_POSITION),
        packet.flag(HAS_MOTOR),
        packet.flag(HAS_STAGE),
        packet.flag(READS_TOOTH),
        packet.integer(MOST_STEPS),
        packet.number(PERIOD),
        packet.number(WATCHDOG),
        packet.number(SILENCE));
  }
}
