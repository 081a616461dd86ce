package org.stopwell.harness.stops;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/** How a row of a table of stops ended. The words of {@link #keys} stand in its column why. */
public enum StopEnd {
  /** The device ended the rotation, and the file came to rest. */
  STOPPED(true, "The device stopped."),
  /** The device never turned the file. */
  NO_START(true, "The device did not start although the file was in the canal."),
  /** The device gave no valid reading and did not stop at its setting. */
  REFUSED(true, "The device gave no valid reading."),
  /** A person or the end of the stroke ended the motion; the device did not. */
  NO_STOP(true, "The device did not stop the file."),
  /** The row was planned and not done. */
  NOT_DONE(false, "The trial was not done."),
  /** The tooth moved in its mount. */
  TOOTH_MOVED(false, "The tooth moved in its mount."),
  /** Another tooth than planned was in the mount. */
  WRONG_TOOTH(false, "Another tooth than planned was in the mount."),
  /** A lead or the lip clip fell off. */
  LEAD_OFF(false, "A lead or the lip clip fell off."),
  /** The medium around the root dried, leaked or was outside of its temperature. */
  MEDIUM_CHANGED(false, "The medium around the root was not as planned."),
  /** The distance could not be measured. */
  NOT_MEASURED(false, "The distance to the foramen could not be measured."),
  /** Feed, mount or recorder failed. */
  RIG_FAILED(false, "Feed, mount or recorder failed."),
  /** A person did not follow the procedure. */
  PROCEDURE_BROKEN(false, "The procedure was not followed.");

  private final boolean valid;
  private final String sentence;

  StopEnd(boolean valid, String sentence) {
    this.valid = valid;
    this.sentence = sentence;
  }

  /**
   * Whether the row says something about the device.
   *
   * @return false for what the rig or a person spoiled
   */
  public boolean valid() {
    return valid;
  }

  /**
   * What it means.
   *
   * @return one sentence
   */
  public String sentence() {
    return sentence;
  }

  /**
   * The word in a table.
   *
   * @return empty for a stop
   */
  public String key() {
    return this == STOPPED ? "" : name().toLowerCase(Locale.ROOT);
  }

  /**
   * The words that a row may have.
   *
   * @param valid whether the row is valid
   * @return in order; the empty word of a stop is left out
   */
  public static List<String> keys(boolean valid) {
    return Arrays.stream(values())
        .filter(e -> e.valid == valid && e != STOPPED)
        .map(StopEnd::key)
        .toList();
  }
}
