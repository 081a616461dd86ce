package org.stopwell.rig.wire;

/** Why a board does not obey a request. The order is part of the wire contract. */
public enum Refusal {
  /** No session is open: the board was reset since. */
  NO_SESSION("No session is open: the board was reset."),
  /** Another session is open. */
  OTHER_SESSION("Another session is open."),
  /** There is no trial mounted. */
  NOT_MOUNTED("`EXCHANGE` came while no trial is mounted."),
  /** A value cannot be, such as time that goes backwards. */
  BAD_VALUE("Impossible value: `now_ns` does not increase."),
  /** The board does not know this message, or not at this moment. */
  BAD_ORDER(
      "The board does not know the message, has no stage for a `STAGE_` message, or expects another"
          + " message now: a `MOUNT_VALUE`, `MOUNT_STEP` or `MOUNT_END` that does not follow what"
          + " `MOUNT_BEGIN` announced."),
  /** The board itself has failed. */
  BROKEN(
      "The board found a fault of its own, such as a missing calibration. The"
          + " emulated board and the two boards of this repository do not send it.");

  private final String text;

  Refusal(String text) {
    this.text = text;
  }

  /**
   * When a board sends it.
   *
   * @return sentences for the protocol page
   */
  public String text() {
    return text;
  }
}
