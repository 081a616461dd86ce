package org.stopwell.rig.bench;

/** What was really so at one moment. A reused frame, for the harness only. */
public final class Truth {
  /** Bench time, ns. */
  public long timeNs;

  /** Distance from file tip to foramen along the canal, positive short of it, µm. */
  public int remainingMicrons;

  /** Speed of the file, positive in the cutting direction, milli-rpm. */
  public int speedMilliRpm;

  /** Torque on the file, µN·m. */
  public int torqueMicroNewtonMetres;

  /** Fluid level above the foramen, µm. */
  public int fluidLevelMicrons;

  /** Whether there is fluid in the chamber, so that current can leave around the canal. */
  public boolean chamberWet;

  /** Whether the motor is held off by the emergency-stop contact. */
  public boolean stopLine;

  /** Whether the file is whole. */
  public FileCondition file = FileCondition.WHOLE;

  /** A frame of zeros. */
  public Truth() {}

  /**
   * Overwrites this frame.
   *
   * @param other the frame to copy
   */
  public void copyFrom(Truth other) {
    timeNs = other.timeNs;
    remainingMicrons = other.remainingMicrons;
    speedMilliRpm = other.speedMilliRpm;
    torqueMicroNewtonMetres = other.torqueMicroNewtonMetres;
    fluidLevelMicrons = other.fluidLevelMicrons;
    chamberWet = other.chamberWet;
    stopLine = other.stopLine;
    file = other.file;
  }
}
