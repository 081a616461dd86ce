package org.stopwell.harness.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.replay.Resimulation;
import org.stopwell.harness.standing.BenchStanding;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.harness.trial.TraceReader;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.BenchDescription;

/** Copies of a run with a chain of their own, in which not everything is as it was. */
final class FalsifiedRun {
  private FalsifiedRun() {}

  /** A copy in which one value of one trial is false. */
  static Path of(Path run, int index, String what) throws IOException {
    Path copy = run.resolveSibling(run.getFileName() + "-" + what);
    try (RunFile from = RunFile.load(run);
        RunFile to = RunFile.create(copy, from.header())) {
      for (TrialResult r : from.results()) {
        byte[] trace = from.trace(r.index()).orElse(null);
        boolean cut = r.index() == index && what.equals("cut");
        to.append(
            r.index() == index ? changed(r, what) : r,
            cut ? half(Objects.requireNonNull(trace)) : trace);
      }
      to.finish("then");
    }
    return copy;
  }

  /** The same trials as if a physical bench had run them, with every trace. */
  static Path physical(Path run, boolean withheld) throws IOException {
    Path copy = run.resolveSibling(run.getFileName() + (withheld ? "-withheld" : "-physical"));
    try (RunFile from = RunFile.load(run)) {
      RunHeader h = from.header();
      BenchDescription bench = new BenchDescription("serial", "B-1", "2", false, false, 1_000_000);
      Plan plan =
          h.plan(Policies.BUILT_IN)
              .with(h.campaignSeed(), h.plannedTrials() / h.conditions().size());
      BenchStanding standing = withheld ? BenchStanding.unknown(bench) : BenchStanding.SIMULATED;
      try (RunFile to = RunFile.create(copy, with(h, bench, h.claims()))) {
        for (TrialResult r : from.results()) {
          to.append(standing.weigh(r, 500, 0), Resimulation.of(from, plan, r.index()).trace());
        }
        to.finish("then");
      }
    } catch (PlanException | TraceException e) {
      throw new IOException(e);
    }
    return copy;
  }

  /** A copy whose header claims nothing. */
  static Path withoutClaims(Path run) throws IOException {
    Path copy = run.resolveSibling(run.getFileName() + "-claimless");
    try (RunFile from = RunFile.load(run);
        RunFile to = RunFile.create(copy, with(from.header(), from.header().bench(), List.of()))) {
      for (TrialResult r : from.results()) {
        to.append(r, from.trace(r.index()).orElse(null));
      }
      to.finish("then");
    }
    return copy;
  }

  private static RunHeader with(RunHeader h, BenchDescription bench, List<Claim> claims) {
    return new RunHeader(
        h.planName(),
        h.planYaml(),
        h.settingsYaml(),
        h.build(),
        bench,
        h.campaignSeed(),
        h.conditions(),
        claims,
        h.startedAt(),
        h.command(),
        h.protocol(),
        h.registration(),
        h.design());
  }

  /** The first half of the steps. */
  private static byte[] half(byte[] trace) {
    int head = 16;
    int steps = new TraceReader(trace).steps();
    return Arrays.copyOf(trace, head + (trace.length - head) / steps * (steps / 2));
  }

  private static TrialResult changed(TrialResult r, String what) {
    boolean spoiled = what.equals("spoiled");
    return new TrialResult(
        r.index(),
        r.condition(),
        r.seed(),
        r.expectation(),
        spoiled ? Verdict.RIG_FAULT : what.equals("verdict") ? Verdict.FAIL : r.verdict(),
        spoiled ? "LINK" : what.equals("late") ? "LATE" : what.equals("code") ? "EARLY" : r.code(),
        what.equals("message") ? r.message().replace(": PASS", ": FAIL") : r.message(),
        r.stopped(),
        what.equals("remaining") ? r.remainingMicrons() + 1 : r.remainingMicrons(),
        what.equals("error") ? r.stopErrorMicrons() - 1 : r.stopErrorMicrons(),
        what.equals("deepest") ? r.deepestMicrons() + 1 : r.deepestMicrons(),
        r.readingMicrons(),
        r.state(),
        r.reason(),
        r.trust(),
        r.cause(),
        r.stopTimeNs(),
        r.durationNs(),
        spoiled ? 0 : r.steps(),
        r.worstLatenessNs(),
        r.stateHash(),
        r.chain());
  }
}
