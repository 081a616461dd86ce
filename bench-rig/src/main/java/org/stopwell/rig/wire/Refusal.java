package org.stopwell.rig.wire;

/** Why a board does not obey a request. The order is part of the wire contract. */
public enum Refusal {
  /** No session is open: the board was reset since. */
  NO_SESSION,
  /** Another session is open. */
  OTHER_SESSION,
  /** There is no trial mounted. */
  NOT_MOUNTED,
  /** A value cannot be, such as time that goes backwards. */
  BAD_VALUE,
  /** The board does not know this message, or not at this moment. */
  BAD_ORDER,
  /** The board itself has failed. */
  BROKEN
}
