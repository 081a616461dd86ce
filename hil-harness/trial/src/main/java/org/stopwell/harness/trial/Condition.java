package org.stopwell.harness.trial;

/**
 * One condition of a plan, as the statistics need it.
 *
 * @param name its name in the plan
 * @param expectation what the plan expects of the controller
 * @param plannedTrials how many trials the plan asks for
 * @param standoffMicrons target distance short of the foramen, µm
 * @param toleranceMicrons half width of the tolerance band around the standoff, µm
 */
public record Condition(
    String name,
    Expectation expectation,
    int plannedTrials,
    int standoffMicrons,
    int toleranceMicrons) {

  /**
   * Checks name and counts.
   *
   * @throws IllegalArgumentException when the name is not one line, a count is negative or the
   *     tolerance is not above 0
   */
  public Condition {
    if (name.isBlank() || name.indexOf('\n') >= 0) {
      throw new IllegalArgumentException("condition name \"" + name + "\" must be one line");
    }
    if (plannedTrials < 0) {
      throw new IllegalArgumentException(
          "condition " + name + ": " + plannedTrials + " planned trials, must be 0 or more");
    }
    if (toleranceMicrons <= 0) {
      throw new IllegalArgumentException(
          "condition " + name + ": tolerance " + toleranceMicrons + " µm, must be above 0 µm");
    }
  }

  /**
   * Below which remaining distance a trial is an over-travel.
   *
   * @return remaining distance, µm; never above 0
   */
  public int overTravelBelowMicrons() {
    return expectation.overTravelBelowMicrons(standoffMicrons, toleranceMicrons);
  }

  /**
   * Whether the file was at any moment of a trial past the foramen, or past the band of a standoff
   * that lies past the foramen on purpose.
   *
   * @param trial a trial of this condition
   * @return true below that distance
   */
  public boolean isOverTravel(TrialResult trial) {
    return trial.deepestMicrons() < overTravelBelowMicrons();
  }

  /**
   * Whether the file was at any moment of a trial past the depth limit by more than the tolerance,
   * by the depth axis.
   *
   * @param trial a trial of this condition
   * @return never true where the plan expects no depth limit
   */
  public boolean isOverrun(TrialResult trial) {
    return expectation == Expectation.DEPTH_LIMIT
        && trial.depth().overrunMicrons() > toleranceMicrons;
  }

  /**
   * Whether a trial counts for overrun: it was driven, or it went past the limit all the same.
   *
   * @param trial a trial of this condition
   * @return false for a trial that shows nothing about overrun
   */
  public boolean isAtRiskOfOverrun(TrialResult trial) {
    return expectation == Expectation.DEPTH_LIMIT && (trial.driven() || isOverrun(trial));
  }

  /**
   * Whether a trial counts for over-travel: it was driven, or it went past all the same, such as a
   * file that the hand pushed.
   *
   * @param trial a trial of this condition
   * @return false for a trial that shows nothing about over-travel
   */
  public boolean isAtRisk(TrialResult trial) {
    return trial.driven() || isOverTravel(trial);
  }
}
