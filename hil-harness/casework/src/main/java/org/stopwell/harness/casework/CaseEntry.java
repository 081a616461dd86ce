package org.stopwell.harness.casework;

import java.util.Optional;
import org.stopwell.harness.trial.Verdict;

/**
 * One entry of the record of a tooth: a step in one canal, as it ended. Depths and lengths count
 * from the reference point of the canal, as a rubber stop shows them. Integers in the unit that the
 * name ends with; a key that ends with {@code entry} is the number of an earlier entry.
 */
public sealed interface CaseEntry {
  /**
   * Date, canal, operator, bench and build.
   *
   * @return what every entry states
   */
  CaseStamp stamp();

  /**
   * How the step ended.
   *
   * @return the verdict, which is also the exit code of the command
   */
  Verdict verdict();

  /**
   * Why it ended so.
   *
   * @return one sentence, or empty
   */
  String reason();

  /**
   * The step.
   *
   * @return the step of this kind of entry
   */
  CaseStep step();

  /** How a length was measured. */
  enum Method {
    /** By the motor, with the stop of the controller. */
    MOTOR,
    /** By a hand file, with the reading of the locator alone. */
    HAND
  }

  /** What a radiograph says about a length. */
  enum Finding {
    /** It agrees. */
    CONFIRMS,
    /** It does not agree: the length must not be used. */
    CONTRADICTS
  }

  /** What a recheck found. */
  enum Change {
    /** The difference is within both uncertainties. */
    UNCHANGED,
    /** The difference is beyond both uncertainties. */
    CHANGED,
    /** Too few length readings agree, so that nothing can be said. */
    NOT_COMPARABLE
  }

  /**
   * Step 1: the upper parts were opened.
   *
   * @param stamp what every entry states
   * @param file the file
   * @param motion how the file moved, as the settings write it
   * @param depthLimitMicrons the chosen depth, µm
   * @param restMicrons where the file rested, µm
   * @param deepestMicrons the greatest depth that it reached, µm
   * @param torqueLimitMicroNewtonMetres torque limit at the file, µN·m
   * @param torqueGreatestMicroNewtonMetres greatest measured torque, µN·m
   * @param verdict how the step ended
   * @param reason why it ended so
   */
  record Opened(
      CaseStamp stamp,
      StepFile file,
      String motion,
      int depthLimitMicrons,
      int restMicrons,
      int deepestMicrons,
      int torqueLimitMicroNewtonMetres,
      int torqueGreatestMicroNewtonMetres,
      Verdict verdict,
      String reason)
      implements CaseEntry {
    @Override
    public CaseStep step() {
      return CaseStep.OPEN;
    }
  }

  /**
   * Step 2: the length was measured.
   *
   * @param stamp what every entry states
   * @param file the file
   * @param method how it was measured
   * @param length the length; empty where too few length readings agree
   * @param taken number of length readings taken
   * @param verdict how the step ended
   * @param reason why it ended so
   */
  record Measured(
      CaseStamp stamp,
      StepFile file,
      Method method,
      Optional<CaseLength> length,
      int taken,
      Verdict verdict,
      String reason)
      implements CaseEntry {
    @Override
    public CaseStep step() {
      return CaseStep.MEASURE;
    }
  }

  /**
   * Step 4: a radiograph was compared with the length.
   *
   * @param stamp what every entry states
   * @param lengthEntry the entry of the length
   * @param tipToApexMicrons from the file's tip to the radiographic apex, µm, positive short of it
   * @param limitMicrons greatest distance that still confirms the length, µm
   * @param finding what the radiograph says about the length
   * @param verdict how the step ended
   * @param reason why it ended so
   */
  record Radiographed(
      CaseStamp stamp,
      int lengthEntry,
      int tipToApexMicrons,
      int limitMicrons,
      Finding finding,
      Verdict verdict,
      String reason)
      implements CaseEntry {
    @Override
    public CaseStep step() {
      return CaseStep.RADIOGRAPH;
    }
  }

  /**
   * Step 5: the canal was shaped.
   *
   * @param stamp what every entry states
   * @param file the file
   * @param motion how the file moved, as the settings write it
   * @param lengthEntry the entry of the length that the depth limit comes from
   * @param depthLimitMicrons the depth limit, µm
   * @param restMicrons where the file rested, µm
   * @param deepestMicrons the greatest depth that it reached, µm
   * @param torqueLimitMicroNewtonMetres torque limit at the file, µN·m
   * @param torqueGreatestMicroNewtonMetres greatest measured torque, µN·m
   * @param verdict how the step ended
   * @param reason why it ended so
   */
  record Shaped(
      CaseStamp stamp,
      StepFile file,
      String motion,
      int lengthEntry,
      int depthLimitMicrons,
      int restMicrons,
      int deepestMicrons,
      int torqueLimitMicroNewtonMetres,
      int torqueGreatestMicroNewtonMetres,
      Verdict verdict,
      String reason)
      implements CaseEntry {
    @Override
    public CaseStep step() {
      return CaseStep.SHAPE;
    }
  }

  /**
   * Step 6: the length was measured again.
   *
   * @param stamp what every entry states
   * @param file the file
   * @param method how it was measured
   * @param lengthEntry the entry of the length that it was compared with
   * @param length the length of today; empty where too few length readings agree
   * @param change what was found
   * @param differenceMicrons today's length less the earlier one, µm; 0 where nothing was compared
   * @param limitMicrons a difference beyond this is a change, µm
   * @param detectableMicrons smallest change that the comparison finds in 90 of 100 rechecks, µm
   * @param verdict how the step ended
   * @param reason why it ended so
   */
  record Rechecked(
      CaseStamp stamp,
      StepFile file,
      Method method,
      int lengthEntry,
      Optional<CaseLength> length,
      Change change,
      int differenceMicrons,
      int limitMicrons,
      int detectableMicrons,
      Verdict verdict,
      String reason)
      implements CaseEntry {
    @Override
    public CaseStep step() {
      return CaseStep.RECHECK;
    }
  }

  /**
   * Step 7: a filling was proposed. Bench and teaching; not for use on a person.
   *
   * @param stamp what every entry states
   * @param shapedEntry the entry of the shaping
   * @param lengthEntry the entry of the length
   * @param coneSize tip diameter of the master cone, 1/100 mm
   * @param coneTaperPerMyriad its growth of the diameter, 1/10 000 mm per mm
   * @param coneLengthMicrons from the reference point to its tip, µm
   * @param stopMicrons from its tip to the orifice, where it is cut off, µm
   * @param volumeNanolitres volume of the filling, 1/1000 mm³
   * @param verdict how the step ended
   * @param reason why it ended so
   */
  record Filled(
      CaseStamp stamp,
      int shapedEntry,
      int lengthEntry,
      int coneSize,
      int coneTaperPerMyriad,
      int coneLengthMicrons,
      int stopMicrons,
      int volumeNanolitres,
      Verdict verdict,
      String reason)
      implements CaseEntry {
    @Override
    public CaseStep step() {
      return CaseStep.FILL;
    }
  }
}
