package org.stopwell.harness.external;

import java.util.Locale;
import java.util.Set;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.plan.Device;
import org.stopwell.harness.trial.DeviceActs;
import org.stopwell.harness.trial.DeviceTrial;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.device.DeviceFault;

/** Judges a trial of a device by what it did. */
public final class DeviceJudge {
  /** Faults that leave a valid trial: they are stated beside its result. */
  private static final Set<DeviceFault> NOTED =
      Set.of(DeviceFault.LATE_HOST, DeviceFault.BATTERY_LOW);

  /** Codes of trials whose place of rest counts. */
  private static final Set<String> RESTED = Set.of("AT_STANDOFF", "EARLY", "LATE_STOP", "ACTED");

  /** Code of a trial on a network of components, where no place counts. */
  public static final String ACTED = "ACTED";

  private final TrialSpec spec;
  private final Acts acts;
  private final NetworkAnswer answer;

  private DeviceJudge(TrialSpec spec, DeviceRunner.Seen seen) {
    this.spec = spec;
    this.acts = seen.acts();
    this.answer = seen.answer();
  }

  private record Ruling(Verdict verdict, String code, String message) {}

  /**
   * The result of a trial.
   *
   * @param spec what the plan asked for
   * @param device the device of the plan
   * @param tooth code of the tooth; empty on a network of components
   * @param seen what was seen
   * @return the result; without a controller it has no reading, no trust and no state
   */
  public static TrialResult judge(
      TrialSpec spec, Device device, String tooth, DeviceRunner.Seen seen) {
    Acts acts = seen.acts();
    Ruling ruling = new DeviceJudge(spec, seen).rule();
    boolean stopped =
        acts.acted()
            && (RESTED.contains(ruling.code())
                || (ruling.code().equals("OVER_TRAVEL") && acts.fault().isEmpty()));
    DeviceActs kept =
        new DeviceActs(
            acts.startMicrons(),
            acts.actMicrons(),
            acts.actBoundMicrons(),
            acts.stillMicros(),
            acts.stillBoundMicros(),
            acts.stillMilliDegrees(),
            acts.feedMicronsPerSecond(),
            acts.reversed() ? 1 : 0,
            acts.restartMicrons());
    TrialResult result =
        new TrialResult(
                spec.index(),
                spec.condition(),
                spec.scene().seed(),
                spec.expectation(),
                ruling.verdict(),
                ruling.code(),
                ruling.message() + (acts.acted() ? " " + words(acts) : "") + tip(seen),
                stopped,
                stopped ? acts.restMicrons() : 0,
                stopped ? acts.restMicrons() - spec.standoffMicrons() : 0,
                acts.deepestMicrons(),
                0,
                State.PARKED,
                Reason.STARTED_UP,
                Trust.NONE,
                Cause.NO_CAUSE,
                stopped ? acts.actNs() : 0,
                seen.endNs(),
                seen.samples(),
                seen.worstLatenessNs(),
                0,
                ErrorChain.NONE)
            .with(
                new DeviceTrial(
                    tooth,
                    device.model() + "." + device.unit(),
                    device.operator(),
                    spec.scene().section("hand").getInt(HandSection.FEED),
                    stopped ? acts.turnedUntilMicrons() : 0,
                    0,
                    0,
                    kept));
    return DeviceOutcome.judge(spec, result, acts.fault());
  }

  private Ruling rule() {
    DeviceFault fault = acts.fault().orElse(null);
    if (fault != null && !fault.ofDevice() && !NOTED.contains(fault)) {
      return new Ruling(Verdict.RIG_FAULT, fault.name(), fault.sentence());
    }
    boolean network = CanalSection.kind(spec.scene().section("canal")).isBuilt();
    if (!network && acts.deepestMicrons() < spec.overTravelBelowMicrons()) {
      return new Ruling(
          Verdict.FAIL,
          "OVER_TRAVEL",
          "The file went "
              + mm(-acts.deepestMicrons())
              + " mm past the foramen."
              + (fault == null || NOTED.contains(fault) ? "" : " " + fault.sentence()));
    }
    if (spec.expectation() == Expectation.REFUSE) {
      return refuse();
    }
    if (!acts.started() && spec.expectation().mayRefuse()) {
      return new Ruling(
          Verdict.PASS, "REFUSED", "The device did not turn the file. " + answer.sentence());
    }
    if (fault != null && !NOTED.contains(fault)) {
      String more = acts.started() ? "" : " " + answer.sentence();
      return new Ruling(Verdict.FAIL, fault.name(), fault.sentence() + more);
    }
    if (!acts.acted()) {
      return new Ruling(
          Verdict.UNDECIDED,
          TrialResult.TIME_LIMIT,
          "The time limit came " + mm(acts.restMicrons()) + " mm short of the foramen.");
    }
    String noted = fault == null ? "" : " " + fault.sentence();
    if (network) {
      return new Ruling(
          Verdict.PASS,
          ACTED,
          "The device acted; on a network of resistors the distance to a foramen has no meaning."
              + noted);
    }
    int error = acts.restMicrons() - spec.standoffMicrons();
    String where =
        "The file rests "
            + mm(acts.restMicrons())
            + " mm short of the foramen, "
            + mm(Math.abs(error))
            + (error < 0 ? " mm beyond the standoff" : " mm before the standoff");
    return Math.abs(error) <= spec.toleranceMicrons()
        ? new Ruling(Verdict.PASS, "AT_STANDOFF", where + "." + noted)
        : new Ruling(
            Verdict.FAIL,
            error > 0 ? "EARLY" : "LATE_STOP",
            where + "; " + mm(spec.toleranceMicrons()) + " mm is allowed." + noted);
  }

  /** A device refuses when it does not turn the file, or stops it well before its target. */
  private Ruling refuse() {
    boolean refuses =
        !acts.started()
            || (acts.acted()
                && acts.restMicrons() - spec.standoffMicrons() > spec.toleranceMicrons());
    return refuses
        ? new Ruling(
            Verdict.PASS,
            "REFUSED",
            "The device did not take the file to the place of its target."
                + (acts.started() ? "" : " " + answer.sentence()))
        : new Ruling(
            Verdict.FAIL,
            "NOT_REFUSED",
            "The device took the file to the place of its target, where no reading is valid.");
  }

  /** What the device did, with the uncertainties. */
  private static String words(Acts acts) {
    return String.format(
        Locale.ROOT,
        "It started at %.3f mm,%s %s at %.3f ± %.3f mm with %.2f mm/s, stood still %.1f ± %.1f ms"
            + " and %.1f ± %.1f° later; deepest %.3f mm, rest %.3f mm.",
        acts.startMicrons() / 1e3,
        acts.eased()
            ? String.format(Locale.ROOT, " slowed down at %.3f mm,", acts.easedMicrons() / 1e3)
            : "",
        acts.reversed() ? "turned back" : "stopped",
        acts.actMicrons() / 1e3,
        acts.actBoundMicrons() / 1e3,
        acts.feedMicronsPerSecond() / 1e3,
        acts.stillMicros() / 1e3,
        acts.stillBoundMicros() / 1e3,
        acts.stillMilliDegrees() / 1e3,
        acts.stillBoundMilliDegrees() / 1e3,
        acts.deepestMicrons() / 1e3,
        acts.restMicrons() / 1e3);
  }

  private static String tip(DeviceRunner.Seen seen) {
    return seen.trace()
        .notes()
        .tip()
        .map(
            t ->
                String.format(
                    Locale.ROOT,
                    " An observer saw the tip at the foramen %.3f ± %.3f mm after the rest.",
                    t.microns() / 1e3,
                    t.boundMicrons() / 1e3))
        .orElse("");
  }

  private static String mm(int microns) {
    return String.format(Locale.ROOT, "%.2f", microns / 1e3);
  }
}
