package org.stopwell.harness.report;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * The campaign as JUnit XML: one suite per condition, one case per trial. A failed trial is a
 * {@code failure}; what the rig or the emergency stop spoiled is an {@code error}; what does not
 * decide is {@code skipped}, so that a broken rig never looks like a broken device. Times are bench
 * times.
 */
public final class JUnitFile {
  /** The property with the verdict of the campaign. */
  static final String VERDICT = "campaign_verdict";

  /** The property with the newest hash of the run file's chain. */
  static final String FINGERPRINT = "fingerprint";

  /** Begins the properties with what a claim on several conditions together hides. */
  static final String CAUTION = "caution_";

  private JUnitFile() {}

  /**
   * Writes the file without the fingerprint of a run file.
   *
   * @param header what the campaign was
   * @param trials every trial that was run, in any order
   * @return one XML document
   */
  public static String xml(RunHeader header, List<TrialResult> trials) {
    return xml(header, trials, Map.of());
  }

  /**
   * Writes the file.
   *
   * @param header what the campaign was
   * @param trials every trial that was run, in any order
   * @param campaign properties of the campaign, in every suite
   * @return one XML document
   */
  static String xml(RunHeader header, List<TrialResult> trials, Map<String, String> campaign) {
    List<TrialResult> ordered =
        trials.stream().sorted(Comparator.comparingInt(TrialResult::index)).toList();
    Markup out = new Markup();
    out.trusted("<?xml version=\"1.0\" encoding=\"UTF-8\"?>");
    int missing = header.conditions().stream().mapToInt(c -> missing(c, ordered)).sum();
    out.start("testsuites", counts(header.planName(), ordered, missing));
    for (Condition condition : header.conditions()) {
      suite(
          out,
          header,
          campaign,
          condition,
          ordered.stream().filter(t -> t.condition().equals(condition.name())).toList());
    }
    return out.end().toString();
  }

  private static void suite(
      Markup out,
      RunHeader header,
      Map<String, String> campaign,
      Condition condition,
      List<TrialResult> trials) {
    int missing = missing(condition, trials);
    out.start("testsuite", counts(condition.name(), trials, missing));
    out.start("properties");
    property(out, "plan", header.planName());
    property(out, "build", header.build());
    property(out, "bench", header.bench().kind());
    property(out, "simulated", Boolean.toString(header.bench().simulated()));
    property(out, "measured_here", Boolean.toString(!header.origin().imported()));
    property(out, "campaign_seed", Long.toString(header.campaignSeed()));
    property(out, "blinded", Boolean.toString(header.isCoded()));
    property(out, "planned_trials", Integer.toString(condition.plannedTrials()));
    property(out, "command", header.command());
    campaign.forEach((name, value) -> property(out, name, value));
    out.end();
    for (TrialResult trial : trials) {
      // Of a blinded run the times are 0: they differ between levels by design.
      out.start(
          "testcase",
          "name",
          "trial " + (trial.index() + 1),
          "classname",
          header.planName() + "." + condition.name(),
          "time",
          seconds(trial.durationNs()));
      out.start("properties");
      property(out, "seed", Long.toString(trial.seed()));
      property(out, "code", trial.code());
      if (!header.isCoded() && !header.origin().imported()) {
        property(out, "reproduce", "stopwell replay DIR --trial " + (trial.index() + 1));
      }
      out.end();
      if (isCompared(trial)) {
        out.leaf("skipped", "message", "COMPARE: " + trial.code() + ": " + trial.message());
        out.end();
        continue;
      }
      switch (trial.verdict()) {
        case PASS -> {}
        case FAIL -> problem(out, "failure", trial);
        case RIG_FAULT, SAFETY_STOP -> problem(out, "error", trial);
        case UNDECIDED -> out.leaf("skipped", "message", trial.code() + ": " + trial.message());
      }
      out.end();
    }
    if (missing > 0) {
      // One case stands for all of them: a campaign that was cut short must not look whole.
      out.start(
          "testcase",
          "name",
          "not run",
          "classname",
          header.planName() + "." + condition.name(),
          "time",
          "0.000");
      out.leaf(
          "skipped",
          "message",
          "NOT_RUN: "
              + (condition.plannedTrials() - trials.size())
              + " of "
              + condition.plannedTrials()
              + " planned trials were not run.");
      out.end();
    }
    out.end();
  }

  /** 1 where planned trials of a condition were not run, else 0. */
  private static int missing(Condition condition, List<TrialResult> trials) {
    long run = trials.stream().filter(t -> t.condition().equals(condition.name())).count();
    return run < condition.plannedTrials() ? 1 : 0;
  }

  private static void problem(Markup out, String element, TrialResult trial) {
    out.element(
        element,
        trial.message(),
        "type",
        trial.code(),
        "message",
        Words.verdict(trial.verdict()) + ": " + trial.message());
  }

  private static void property(Markup out, String name, String value) {
    out.leaf("property", "name", name, "value", value);
  }

  private static String[] counts(String name, List<TrialResult> trials, int missing) {
    long errors = count(trials, Verdict.RIG_FAULT) + count(trials, Verdict.SAFETY_STOP);
    return new String[] {
      "name", name,
      "tests", Integer.toString(trials.size() + missing),
      "failures", Long.toString(count(trials, Verdict.FAIL) - compared(trials, Verdict.FAIL)),
      "errors", Long.toString(errors),
      "skipped",
          Long.toString(
              count(trials, Verdict.UNDECIDED) + compared(trials, Verdict.FAIL) + missing),
      "time", seconds(trials.stream().mapToLong(TrialResult::durationNs).sum())
    };
  }

  /** A trial that is shown for comparison does not decide a build. */
  private static boolean isCompared(TrialResult trial) {
    return trial.expectation() == Expectation.COMPARE
        && (trial.verdict() == Verdict.FAIL || trial.verdict() == Verdict.UNDECIDED);
  }

  private static long compared(List<TrialResult> trials, Verdict verdict) {
    return count(trials.stream().filter(JUnitFile::isCompared).toList(), verdict);
  }

  private static long count(List<TrialResult> trials, Verdict verdict) {
    return trials.stream().filter(t -> t.verdict() == verdict).count();
  }

  private static String seconds(long ns) {
    return BigDecimal.valueOf(ns, 9).setScale(3, RoundingMode.HALF_UP).toPlainString();
  }
}
