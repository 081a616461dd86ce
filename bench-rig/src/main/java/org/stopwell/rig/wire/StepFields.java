package org.stopwell.rig.wire;

import static org.stopwell.rig.wire.Message.MOUNT_STEP;

import org.stopwell.rig.network.StepTable.Step;

/** A step of a {@link org.stopwell.rig.network.StepTable} as a {@link Message#MOUNT_STEP}. */
public final class StepFields {
  /** Greater values say no more than this one; what a board cannot make it refuses. */
  private static final int MOST = 65_534;

  private static final int REMAINING = MOUNT_STEP.index("remaining_microns");
  private static final int OHMS = MOUNT_STEP.index("resistance_ohms");
  private static final int PICOFARADS = MOUNT_STEP.index("capacitance_picofarads");

  private StepFields() {}

  /**
   * Fills a packet that has begun as a step.
   *
   * @param packet receives the fields
   * @param step what to show where
   */
  public static void put(Packet packet, Step step) {
    packet
        .set(REMAINING, Math.round(step.remaining() * 1e6))
        .set(OHMS, Math.min(MOST, Math.round(step.pair().ohms())))
        .set(PICOFARADS, Math.min(MOST, Math.round(step.pair().farads() * 1e12)));
  }
}
