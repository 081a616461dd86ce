package org.stopwell.harness.replay;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.stopwell.harness.record.TrialColumn;
import org.stopwell.harness.trial.Rejudgement;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;
import org.stopwell.rig.bench.BenchException.RigFault;

/**
 * The recorded result of a trial against the one that is computed again. Equal outputs and states
 * say nothing about what the run file says of the trial.
 *
 * @param verdict whether verdict and code could be computed too
 * @param differences the values that differ
 */
public record ResultCheck(boolean verdict, List<Difference> differences) {
  /** A sentence is worded by the build; lateness is a property of that hour. */
  private static final Set<String> NEVER = Set.of("message", "worst_lateness_ns");

  /** What a trace alone does not give. */
  private static final Set<String> NOT_IN_THE_TRACE =
      Set.of("sense_um", "filter_um", "decide_um", "link_um", "actuate_um", "coast_um");

  private static final Set<String> RULING = Set.of("verdict", "code");

  /**
   * One value that differs.
   *
   * @param column its column in the run file, with the unit
   * @param recorded the value in the run file
   * @param recomputed the value that is computed again
   */
  public record Difference(String column, String recorded, String recomputed) {
    /** As people read it. */
    String words() {
      return column + " recorded " + recorded + ", recomputed " + recomputed;
    }
  }

  /** Takes a copy. */
  public ResultCheck {
    differences = List.copyOf(differences);
  }

  /** What differs, for machines. */
  List<Map<String, Object>> values() {
    List<Map<String, Object>> values = new ArrayList<>();
    for (Difference d : differences) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("column", d.column());
      one.put("recorded", d.recorded());
      one.put("recomputed", d.recomputed());
      values.add(one);
    }
    return values;
  }

  /**
   * Compares with the same trial, simulated again.
   *
   * @param recorded the recorded result
   * @param again the result of the simulation, with its error chain
   * @return every value that differs, without the sentence
   */
  static ResultCheck simulated(TrialResult recorded, TrialResult again) {
    return new ResultCheck(true, differences(recorded, again, Set.of()));
  }

  /**
   * Compares with what follows from the recorded trace.
   *
   * @param recorded the recorded result
   * @param spec what was to be done
   * @param trace its trace
   * @return every value that differs
   */
  static ResultCheck judged(TrialResult recorded, TrialSpec spec, byte[] trace) {
    Rejudgement again = Rejudgement.of(spec, trace);
    boolean known =
        spec.faults().isEmpty() && !recorded.code().equals(RigFault.LATE.name()) && again.ended();
    List<Difference> differences = ruled(recorded, again.result(), known, NOT_IN_THE_TRACE);
    if (spec.faults().isEmpty() && !again.ended() && recorded.verdict() != Verdict.RIG_FAULT) {
      differences.add(
          new Difference("verdict", recorded.verdict().name(), Verdict.RIG_FAULT.name()));
    }
    return new ResultCheck(known, differences);
  }

  /**
   * Compares with what follows from the samples of a device that was watched.
   *
   * @param recorded the recorded result
   * @param again the result that follows from the samples
   * @return every value that differs, without the sentence
   */
  static ResultCheck watched(TrialResult recorded, TrialResult again) {
    return new ResultCheck(true, ruled(recorded, again, true, Set.of()));
  }

  /** Where the bench may not decide, its message holds the ruling that it withholds. */
  private static List<Difference> ruled(
      TrialResult recorded, TrialResult again, boolean known, Set<String> unknown) {
    Set<String> left = new HashSet<>(unknown);
    if (!known || isWithheld(recorded)) {
      left.addAll(RULING);
    }
    List<Difference> differences = new ArrayList<>(differences(recorded, again, left));
    if (known && isWithheld(recorded)) {
      String without = again.verdict() + " " + again.code() + ".";
      if (!recorded.message().contains("Result without this limit: " + without)) {
        differences.add(new Difference("message", recorded.message(), without));
      }
    }
    return differences;
  }

  private static boolean isWithheld(TrialResult trial) {
    return Withheld.from(trial).isPresent() || Withheld.GUARD_BAND.holds(trial);
  }

  private static List<Difference> differences(
      TrialResult recorded, TrialResult again, Set<String> left) {
    List<Difference> differences = new ArrayList<>();
    for (TrialColumn column : TrialColumn.ALL) {
      Object then = column.value().apply(recorded);
      Object now = column.value().apply(again);
      if (!then.equals(now) && !NEVER.contains(column.name()) && !left.contains(column.name())) {
        differences.add(new Difference(column.name(), then.toString(), now.toString()));
      }
    }
    return differences;
  }
}
