package org.stopwell.harness.campaign;

import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.external.DeviceJudge;
import org.stopwell.harness.external.DeviceRunner;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Device;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.standing.BenchStanding;
import org.stopwell.harness.trial.Onlooker;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Decider;
import org.stopwell.rig.bench.DutException;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * Runs single trials on a free bench. A bench that failed is closed, and the next trial gets a new
 * one: a rig fault spoils only one trial.
 *
 * <p>A trial of the virtual bench is the same each time it runs. It runs without a trace, and once
 * more with one when its trace may be kept. Every other bench records each trial.
 */
final class Worker implements AutoCloseable {
  private final BenchMaker maker;
  private final Plan plan;
  private final BenchStanding standing;
  private final BenchDescription begun;
  private final Supplier<Onlooker> onlookers;
  private final TraceChoice traces;
  private final Queue<Seat> idle = new ConcurrentLinkedQueue<>();
  private volatile boolean closed;

  /** A bench, the trace that one trial after another on it overwrites, and who watches. */
  private record Seat(Bench bench, TraceRecorder trace, Onlooker onlooker) {}

  Worker(
      Bench first,
      BenchMaker maker,
      Plan plan,
      BenchStanding standing,
      Supplier<Onlooker> onlookers,
      TraceChoice traces) {
    this.maker = maker;
    this.plan = plan;
    this.standing = standing;
    this.begun = first.describe();
    this.onlookers = onlookers;
    this.traces = traces;
    idle.add(seat(first));
  }

  /** One trial with its trace; empty if it was abandoned. */
  Optional<RunFile.Entry> run(TrialSpec spec, BooleanSupplier abandon) {
    if (abandon.getAsBoolean()) {
      return Optional.empty();
    }
    Seat seat;
    try {
      seat = take();
    } catch (BenchException e) {
      if (abandon.getAsBoolean()) {
        return Optional.empty();
      }
      return Optional.of(new RunFile.Entry(TrialRunner.neverBegun(spec, e), null));
    }
    boolean healthy = false;
    try {
      Optional<Device> device = plan.device(spec);
      if (device.isPresent()) {
        Optional<RunFile.Entry> watched = watched(seat.bench(), device.get(), spec, abandon);
        healthy = watched.filter(e -> e.result().verdict() == Verdict.RIG_FAULT).isEmpty();
        return watched;
      }
      boolean recorded =
          !isRepeatable(seat.bench()) || !spec.faults().isEmpty() || traces.expects(spec);
      Optional<TrialResult> result =
          run(seat, spec, recorded ? seat.trace() : null, abandon, seat.onlooker());
      if (!recorded && result.filter(r -> traces.mayKeep(weighed(spec, r))).isPresent()) {
        recorded = true;
        result = run(seat, spec, seat.trace(), abandon, Onlooker.NOBODY);
      }
      boolean left = result.filter(Campaign::isStuck).isPresent();
      healthy = !left && result.filter(r -> r.verdict() == Verdict.RIG_FAULT).isEmpty();
      byte @Nullable [] steps =
          !recorded
              ? null
              : left
                  ? new TraceRecorder().bytes()
                  : seat.trace().bytes(); // its thread may write on
      return result.map(r -> new RunFile.Entry(weighed(spec, r), steps));
    } finally {
      if (healthy && !closed) {
        idle.add(seat);
      } else {
        seat.bench().close();
      }
    }
  }

  /** A trial of a device: nothing is commanded, and no controller runs. */
  private Optional<RunFile.Entry> watched(
      Bench bench, Device device, TrialSpec spec, BooleanSupplier abandon) {
    try {
      Optional<Decider> board = bench.decider();
      if (board.isPresent()) {
        board.get().beginAlone(plan.written(spec), spec.stage());
      }
      return new DeviceRunner(bench, device.clamped(), device.advances())
          .run(spec, () -> pace(bench.describe()), abandon)
          .map(
              seen ->
                  new RunFile.Entry(
                      weighed(spec, DeviceJudge.judge(spec, device, plan.toothCode(spec), seen)),
                      seen.trace().bytes()));
    } catch (DutException e) {
      return Optional.of(new RunFile.Entry(TrialRunner.failed(spec, e), null));
    } catch (BenchException e) {
      return abandon.getAsBoolean()
          ? Optional.empty()
          : Optional.of(new RunFile.Entry(TrialRunner.neverBegun(spec, e), null));
    }
  }

  /** Whether a trial gives the same bits again: a model, and policies that are of this build. */
  private boolean isRepeatable(Bench bench) {
    return bench instanceof VirtualBench && !plan.policies().isWrapped();
  }

  private Optional<TrialResult> run(
      Seat seat,
      TrialSpec spec,
      @Nullable TraceRecorder trace,
      BooleanSupplier abandon,
      Onlooker onlooker) {
    if (trace != null) {
      trace.clear();
    }
    BenchDescription description = seat.bench().describe();
    return Trials.run(
        seat.bench(),
        plan.controller(spec),
        plan.policies(),
        spec,
        trace,
        () -> pace(description),
        abandon,
        onlooker);
  }

  private TrialResult weighed(TrialSpec spec, TrialResult result) {
    return standing.weigh(result, spec.toleranceMicrons(), spec.overTravelBelowMicrons());
  }

  private Seat take() throws BenchException {
    @Nullable Seat seat = idle.poll();
    return seat == null ? seat(sameBench()) : seat;
  }

  private Seat seat(Bench bench) {
    return new Seat(bench, new TraceRecorder(), onlookers.get());
  }

  /** Opens a bench again; it must be the bench on which the campaign began. */
  private Bench sameBench() throws BenchException {
    Bench opened = maker.open();
    BenchDescription now = opened.describe();
    if (!now.equals(begun)) {
      opened.close();
      throw new BenchException(
          BenchException.RigFault.BENCH_CHANGED,
          "the campaign began on "
              + words(begun)
              + ", now there is "
              + words(now)
              + ". Connect the bench of the campaign and resume, or begin a new run");
    }
    return opened;
  }

  private static String words(BenchDescription bench) {
    return "%s, serial number %s, firmware %s, period %d ns%s"
        .formatted(
            bench.kind(),
            bench.serialNumber(),
            bench.firmware(),
            bench.periodNs(),
            bench.setup().isEmpty() ? "" : ", station " + bench.setup());
  }

  private static Pace pace(BenchDescription bench) {
    return bench.lockstep() ? Pace.lockstep(bench.periodNs()) : Pace.realTime(bench.periodNs());
  }

  @Override
  public void close() {
    closed = true;
    for (Seat seat = idle.poll(); seat != null; seat = idle.poll()) {
      seat.bench().close();
    }
  }
}
