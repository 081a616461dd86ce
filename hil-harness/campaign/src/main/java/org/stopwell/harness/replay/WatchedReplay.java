package org.stopwell.harness.replay;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.IntConsumer;
import org.stopwell.harness.external.DeviceJudge;
import org.stopwell.harness.external.DeviceRunner;
import org.stopwell.harness.external.WatchedTrace;
import org.stopwell.harness.plan.Device;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;

/**
 * Recovery, attribution and verdict of a run of devices, computed again from the samples that the
 * run file keeps. No device and no bench takes part.
 *
 * @param compared how many trials were computed again
 * @param withoutSamples numbers of the trials without samples, from 1
 * @param differing the trials that differ
 */
public record WatchedReplay(int compared, List<Integer> withoutSamples, List<Differing> differing) {
  private static final int SHOWN = 5;

  /** What no replay can show. */
  public static final String NOT_CHECKED =
      "not checked: whether the recorded samples are what happened; a device cannot repeat a trial";

  /**
   * A trial that differs.
   *
   * @param number its number, from 1
   * @param condition its condition
   * @param result what differs
   */
  public record Differing(int number, String condition, ResultCheck result) {}

  /** Takes copies. */
  public WatchedReplay {
    withoutSamples = List.copyOf(withoutSamples);
    differing = List.copyOf(differing);
  }

  /**
   * Computes trials again.
   *
   * @param run the run file
   * @param plan its plan
   * @param results its trials under the names of the plan
   * @param progress receives how many trials are done
   * @return the comparison
   * @throws RunFileException when the run file cannot be read
   */
  public static WatchedReplay of(
      RunFile run, Plan plan, List<TrialResult> results, IntConsumer progress)
      throws RunFileException {
    List<Integer> without = new ArrayList<>();
    List<Differing> differing = new ArrayList<>();
    int compared = 0;
    for (TrialResult recorded : results) {
      int index = recorded.index();
      Optional<byte[]> kept = run.readableTrace(index).filter(WatchedTrace::isOne);
      if (kept.isEmpty()) {
        without.add(index + 1);
        continue;
      }
      TrialSpec spec = plan.trial(index);
      Device device = plan.device(spec).orElseThrow();
      ResultCheck check =
          ResultCheck.watched(
              recorded,
              DeviceJudge.judge(
                  spec,
                  device,
                  plan.toothCode(spec),
                  DeviceRunner.seen(spec, WatchedTrace.read(kept.get()))));
      if (!check.differences().isEmpty()) {
        differing.add(new Differing(index + 1, recorded.condition(), check));
      }
      progress.accept(++compared);
    }
    return new WatchedReplay(compared, without, differing);
  }

  /**
   * Whether every recorded result follows from its samples.
   *
   * @return true when none differs
   */
  public boolean equal() {
    return differing.isEmpty();
  }

  /**
   * For people.
   *
   * @param out receives the lines
   */
  public void print(Consumer<String> out) {
    out.accept(
        compared
            + (compared == 1 ? " trial" : " trials")
            + " of devices computed again from the samples: "
            + (compared - differing.size())
            + " equal in recovery, attribution and verdict; "
            + differing.size()
            + " differ");
    for (Differing one : differing.subList(0, Math.min(SHOWN, differing.size()))) {
      out.accept(
          "  trial "
              + one.number()
              + ", "
              + one.condition()
              + ": "
              + RunReplay.words(one.result()));
    }
    if (differing.size() > SHOWN) {
      out.accept("  … and " + (differing.size() - SHOWN) + " more; --json lists them all");
    }
    if (!withoutSamples.isEmpty()) {
      out.accept(
          withoutSamples.size() + " not computed again: they did not start, or left no samples");
    }
    out.accept(NOT_CHECKED);
  }

  /**
   * For machines.
   *
   * @return the values of a JSON object
   */
  public Map<String, Object> values() {
    List<Map<String, Object>> all = new ArrayList<>();
    for (Differing one : differing) {
      Map<String, Object> trial = new LinkedHashMap<>();
      trial.put("trial", one.number());
      trial.put("condition", one.condition());
      trial.put("values", one.result().values());
      all.add(trial);
    }
    Map<String, Object> values = new LinkedHashMap<>();
    values.put("results_compared", compared);
    values.put("not_replayed", withoutSamples);
    values.put("results_differing", all);
    return values;
  }
}
