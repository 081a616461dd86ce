package org.stopwell.rig.bench;

/** Whether the file is whole, and if not, what broke it. */
public enum FileCondition {
  /** In one piece. */
  WHOLE,
  /** Broken by more torque than it bears. */
  TWISTED_OFF,
  /** Broken by bending to and fro, turn after turn, in the curve of the canal. */
  BENT_OFF;

  /**
   * The condition of a code.
   *
   * @param code its place in this list
   * @return the condition
   */
  public static FileCondition ofCode(int code) {
    return values()[code];
  }
}
