package org.stopwell.harness.replay;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * The repetitions of all trials of a run that did not pass.
 *
 * @param build which build repeated them
 * @param times how often each was repeated
 * @param trials how many trials the run holds
 * @param findings what each showed
 */
public record TriageSummary(String build, int times, int trials, List<Triage> findings) {
  /** Takes a copy. */
  public TriageSummary {
    findings = List.copyOf(findings);
  }

  /**
   * What to look into.
   *
   * @return PASS when nothing was repeated
   */
  public Verdict verdict() {
    if (has(Triage.Finding.SAME) || has(Triage.Finding.ALIKE)) {
      return Verdict.FAIL;
    }
    if (has(Triage.Finding.FLAKY)) {
      return Verdict.UNDECIDED;
    }
    return findings.isEmpty() ? Verdict.PASS : Verdict.RIG_FAULT;
  }

  private boolean has(Triage.Finding finding) {
    return findings.stream().anyMatch(t -> t.finding() == finding);
  }

  /**
   * For people.
   *
   * @param out receives the lines
   */
  public void print(Consumer<String> out) {
    out.accept(
        findings.size()
            + " of "
            + trials
            + " trials did not pass"
            + (findings.isEmpty()
                ? "."
                : "; each was repeated " + times + (times == 1 ? " time." : " times.")));
    for (Triage.Finding finding : Triage.Finding.values()) {
      long n = findings.stream().filter(t -> t.finding() == finding).count();
      if (n > 0) {
        out.accept(n + " " + finding + ": " + finding.text());
      }
    }
    for (Triage t : findings) {
      out.accept(
          "  trial "
              + (t.recorded().index() + 1)
              + ", "
              + t.recorded().condition()
              + ": "
              + t.recorded().code()
              + "; again "
              + String.join(", ", t.again().stream().map(TrialResult::code).toList())
              + " ("
              + t.finding()
              + ")");
    }
  }

  /**
   * For machines.
   *
   * @return the values of a JSON object
   */
  public Map<String, Object> values() {
    List<Map<String, Object>> list = new ArrayList<>();
    for (Triage t : findings) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("trial", t.recorded().index() + 1);
      one.put("condition", t.recorded().condition());
      one.put("seed", t.recorded().seed());
      one.put("recorded", t.recorded().verdict().name());
      one.put("code", t.recorded().code());
      one.put("again", t.again().stream().map(TrialResult::code).toList());
      one.put("finding", t.finding().name());
      one.put("meaning", t.finding().text());
      list.add(one);
    }
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("build", build);
    all.put("times", times);
    all.put("trials", list);
    return all;
  }
}
