package org.stopwell.rig.bench;

/** What a bench may or may not be able to do. A board states most with a flag of its identity. */
public enum Ability {
  /** It turns the file. */
  MOTOR("has_motor", "a board with a motor"),
  /** It says where the tip is, for the controller. */
  POSITION("has_position", "a board that measures the position"),
  /** It says where the tip really is, for the harness. */
  TRUTH("has_truth", "a board that fills the true_ fields from its own encoders"),
  /** It feeds the file by a stage. */
  STAGE("has_stage", "a board with a stage"),
  /** It measures the impedance of an extracted tooth. */
  TOOTH("reads_tooth", "a canal board with a tooth input, or --bench emulated for a rehearsal"),
  /** It watches a device that turns the file by itself. The messages of its board say so. */
  DEVICE("", "--bench virtual or emulated, or a device board with the firmware of this version");

  private final String flag;
  private final String remedy;

  Ability(String flag, String remedy) {
    this.flag = flag;
    this.remedy = remedy;
  }

  /**
   * The flag in the identity of a board.
   *
   * @return its name on the protocol page; empty where no flag states it
   */
  public String flag() {
    return flag;
  }

  /**
   * What has this ability.
   *
   * @return a clause for messages
   */
  public String remedy() {
    return remedy;
  }
}
