package org.stopwell.rig.device;

import java.util.Locale;

/** What can go wrong in a trial of a device with a motor of its own: a closed list. */
public enum DeviceFault {
  /** The motor never turns, in the canal of the trial and in a known network. */
  NEVER_STARTED(true, "The device never turned the file."),
  /** The motor turns in a known network and not in the canal of the trial. */
  NO_READING(true, "The device never turned the file in this canal."),
  /** It turns before the tip reaches the canal. */
  TURNED_EARLY(true, "The device turned the file before it reached the canal."),
  /** It starts and stops again and again in one place. */
  OSCILLATES(true, "The device started and stopped again and again in one place."),
  /** It stops by its own torque limit. */
  TORQUE_STOP(true, "The device stopped under a high feed force, far from its target."),
  /** It acts, and turns on for long. */
  RUNS_ON(true, "The device acted, and the file turned on for long."),
  /** It never acts. */
  NO_STOP(true, "The device turned the file past the foramen and never stopped it."),
  /** It stops far from its target, without force. */
  FALSE_STOP(true, "The device stopped far from its target."),
  /** It turns back far from its target. */
  REVERSED_SHORT(true, "The device turned back far from its target."),
  /** It turns again without a withdrawal. */
  RESTARTED(true, "The device turned the file again without a withdrawal."),
  /** Its speed sinks while it turns. */
  BATTERY_LOW(true, "The speed of the device sank while it turned: charge the battery."),
  /** The mark of the rotation sensor fell off. */
  MARK_OFF(false, "The second witness heard the motor, but the rotation sensor saw none."),
  /** The mark slips on the shank. */
  MARK_SLIPS(false, "The measured angle jumped: the mark slips on the shank."),
  /** Samples are missing. */
  SAMPLES_LOST(false, "Samples of the board are missing."),
  /** The clock of the board is wrong. */
  CLOCK_SKEW(false, "The clock of the board and that of the host disagree."),
  /** The network was open or short for long while it stepped. */
  NETWORK_GLITCH(false, "The network switched for too long just before the device acted."),
  /** The network does not float. */
  LEAK(false, "Current leaves the network around the device."),
  /** A cable of the device is off. */
  CABLE_OFF(false, "A cable between the network and the device is open."),
  /** The file slips in the chuck. */
  FILE_SLIPS(false, "The file did not follow the feed: it slips in the chuck."),
  /** The stage stalls. */
  STAGE_STALLS(false, "The feed stood still although the file turned."),
  /** The feed is not that of the plan. */
  FEED_WRONG(false, "The feed was not that of the plan."),
  /** The host was late, which changes nothing: the board stamps the times. */
  LATE_HOST(false, "The host was late; the board kept the times.");

  private final boolean ofDevice;
  private final String sentence;

  DeviceFault(boolean ofDevice, String sentence) {
    this.ofDevice = ofDevice;
    this.sentence = sentence;
  }

  /**
   * Whose fault it is.
   *
   * @return true for the device, false for the rig
   */
  public boolean ofDevice() {
    return ofDevice;
  }

  /**
   * What happened.
   *
   * @return one sentence
   */
  public String sentence() {
    return sentence;
  }

  /**
   * The word for it on pages.
   *
   * @return such as {@code mark_off}
   */
  public String key() {
    return name().toLowerCase(Locale.ROOT);
  }
}
