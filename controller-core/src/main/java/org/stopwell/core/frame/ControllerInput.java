package org.stopwell.core.frame;

/**
 * Everything one step of the controller may know. A reused frame: the bench overwrites it before
 * every step. It never holds ground truth.
 */
public final class ControllerInput {
  /** The most frequencies one sample may hold. */
  public static final int MAX_FREQUENCIES = 4;

  /** Which of the position fields below are meant. */
  public PositionKind positionKind = PositionKind.ABSENT;

  /** Counts samples, not steps: the same number means that nothing new has arrived. */
  public long sampleSequence;

  /** When the sample was taken, on the controller's time line, ns. */
  public long sampleTimeNs;

  /** How many frequencies the sample holds, 0 to {@link #MAX_FREQUENCIES}. */
  public int frequencyCount;

  /** Frequencies, ascending, Hz. */
  public final int[] frequencyHz = new int[MAX_FREQUENCIES];

  /** Real part of the impedance from file to lip clip per frequency, mΩ. */
  public final int[] zRealMilliOhms = new int[MAX_FREQUENCIES];

  /** Imaginary part of the impedance from file to lip clip per frequency, mΩ. */
  public final int[] zImagMilliOhms = new int[MAX_FREQUENCIES];

  /** The front end says that its converter was saturated during the sample. */
  public boolean railed;

  /**
   * Distance from file tip to foramen that an outside locator shows, positive short of it, µm. One
   * sample is one update of its display: the bench counts and stamps updates, not looks at them.
   */
  public int distanceMicrons;

  /** Whether the bench measures how deep the file is, such as by its feed axis. */
  public boolean insertionPresent;

  /** Depth of the file tip below the reference point, positive deeper, µm. */
  public int insertionMicrons;

  /** Measured speed at the file, positive in the cutting direction, milli-rpm. */
  public int speedMilliRpm;

  /** Torque at the file worked out from the motor current, µN·m. */
  public int torqueMicroNewtonMetres;

  /** Motor current, mA. */
  public int currentMilliAmps;

  /** Motor supply, mV; 0 when the bench does not measure it. */
  public int supplyMilliVolts;

  /** The operator asks for motion. A bench without a pedal leaves it true. */
  public boolean demand = true;

  /** The emergency-stop line is open: no motion in any case. */
  public boolean stopLine;

  /** The operator holds the reset; only the press after the stop line has closed counts. */
  public boolean reset;

  /** The stage of work that the operator has chosen. */
  public Stage stage = Stage.LENGTH;

  /** Age of the newest answer from the bench at the time of the step, ns. */
  public long linkAgeNs;

  /** A frame with no sample and no stop. */
  public ControllerInput() {}

  /**
   * Overwrites this frame.
   *
   * @param other the frame to copy
   */
  public void copyFrom(ControllerInput other) {
    positionKind = other.positionKind;
    sampleSequence = other.sampleSequence;
    sampleTimeNs = other.sampleTimeNs;
    frequencyCount = other.frequencyCount;
    for (int i = 0; i < MAX_FREQUENCIES; i++) {
      frequencyHz[i] = other.frequencyHz[i];
      zRealMilliOhms[i] = other.zRealMilliOhms[i];
      zImagMilliOhms[i] = other.zImagMilliOhms[i];
    }
    railed = other.railed;
    distanceMicrons = other.distanceMicrons;
    insertionPresent = other.insertionPresent;
    insertionMicrons = other.insertionMicrons;
    speedMilliRpm = other.speedMilliRpm;
    torqueMicroNewtonMetres = other.torqueMicroNewtonMetres;
    currentMilliAmps = other.currentMilliAmps;
    supplyMilliVolts = other.supplyMilliVolts;
    demand = other.demand;
    stopLine = other.stopLine;
    reset = other.reset;
    stage = other.stage;
    linkAgeNs = other.linkAgeNs;
  }
}
