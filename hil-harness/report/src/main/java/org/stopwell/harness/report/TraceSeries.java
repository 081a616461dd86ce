package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.trial.TraceReader;

/**
 * What one trial looked like over time, as the report draws it.
 *
 * @param steps the steps in order of time
 */
public record TraceSeries(List<Step> steps) {
  /** Takes a copy. */
  public TraceSeries {
    steps = List.copyOf(steps);
  }

  /**
   * One step.
   *
   * @param timeNs bench time, ns
   * @param trueRemainingMicrons true distance to the foramen, µm
   * @param readingPresent whether the controller had a reading
   * @param readingMicrons its reading, µm
   * @param speedMilliRpm true speed at the file, milli-rpm
   * @param torqueMicroNewtonMetres true torque at the file, µN·m
   * @param state what the controller was doing
   * @param trust its trust in the reading
   */
  public record Step(
      long timeNs,
      int trueRemainingMicrons,
      boolean readingPresent,
      int readingMicrons,
      int speedMilliRpm,
      int torqueMicroNewtonMetres,
      State state,
      Trust trust) {}

  /**
   * A recorded trace as a series.
   *
   * @param trace the bytes of a {@link org.stopwell.harness.trial.TraceRecorder}
   * @return every step of it
   */
  public static TraceSeries of(byte[] trace) {
    TraceReader reader = new TraceReader(trace);
    List<Step> steps = new ArrayList<>(reader.steps());
    while (reader.next()) {
      steps.add(
          new Step(
              reader.nowNs,
              reader.truth.remainingMicrons,
              reader.out.readingPresent,
              reader.out.remainingMicrons,
              reader.truth.speedMilliRpm,
              reader.truth.torqueMicroNewtonMetres,
              reader.out.state,
              reader.out.trust));
    }
    return new TraceSeries(steps);
  }

  /** The steps within a span of time. */
  TraceSeries between(double fromSeconds, double toSeconds) {
    List<Step> inside = new ArrayList<>();
    for (Step step : steps) {
      double t = step.timeNs() / 1e9;
      if (t >= fromSeconds && t <= toSeconds) {
        inside.add(step);
      }
    }
    return new TraceSeries(inside);
  }

  double startSeconds() {
    return steps.isEmpty() ? 0 : steps.get(0).timeNs() / 1e9;
  }

  double endSeconds() {
    return steps.isEmpty() ? 0 : steps.get(steps.size() - 1).timeNs() / 1e9;
  }
}
