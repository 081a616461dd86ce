package org.stopwell.harness.trial;

import java.nio.ByteBuffer;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.Explain;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.trace.Event;
import org.stopwell.core.trace.FrameCodec;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Decider;
import org.stopwell.rig.bench.DutException;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.truth.TruthCheck;

/** Runs trials on one bench: the same loop for every bench there is. */
public final class TrialRunner {
  /** Lateness of a step that makes the trial a rig fault, ns; assumed: 0.02 mm at 1 mm/s. */
  public static final long LATE_NS = 20_000_000;

  private final Bench bench;
  private final ControllerSettings settings;
  private final Policies policies;
  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private final ControllerOutput beside = new ControllerOutput();
  private Onlooker onlooker = Onlooker.NOBODY;

  /**
   * A runner.
   *
   * @param bench an open bench
   * @param settings the settings of the controller
   */
  public TrialRunner(Bench bench, ControllerSettings settings) {
    this(bench, settings, Policies.BUILT_IN);
  }

  /**
   * A runner of a controller with policies that are not built in.
   *
   * @param bench an open bench
   * @param settings the settings of the controller
   * @param policies the policies that the settings may name
   */
  public TrialRunner(Bench bench, ControllerSettings settings, Policies policies) {
    this.bench = bench;
    this.settings = settings;
    this.policies = policies;
  }

  /**
   * Shows every step to an onlooker.
   *
   * @param who sees the steps
   * @return this runner
   */
  public TrialRunner watchedBy(Onlooker who) {
    onlooker = who;
    return this;
  }

  /**
   * Runs one trial and leaves the bench safe, whatever happens.
   *
   * @param spec what to do
   * @param trace receives every step, or null
   * @param paces gives a time line once the scene is mounted
   * @param abandon asked before every step; when true the trial is given up, also when the bench
   *     failed because it was stopped
   * @return the result, empty when it was given up
   */
  public Optional<TrialResult> run(
      TrialSpec spec,
      @Nullable TraceRecorder trace,
      Supplier<Pace> paces,
      BooleanSupplier abandon) {
    try {
      return run(spec, new StopController(settings, policies), trace, paces, abandon);
    } catch (PolicyFailure e) {
      return Optional.of(failed(spec, e));
    }
  }

  private Optional<TrialResult> run(
      TrialSpec spec,
      StopController controller,
      @Nullable TraceRecorder trace,
      Supplier<Pace> paces,
      BooleanSupplier abandon) {
    Watch watch = new Watch(spec);
    StopTrail trail = new StopTrail();
    ReadingCheck readings = new ReadingCheck();
    long worstLatenessNs = 0;
    out.clear();
    Optional<Decider> dut = bench.decider();
    try {
      if (dut.isPresent()) {
        dut.get().begin(settings);
      }
      Lack.refuse(bench, Ability.MOTOR, Ability.POSITION, Ability.TRUTH);
      bench.mount(spec.scene());
      TruthCheck check = new TruthCheck(spec.scene(), bench);
      check.mounted(bench.truth());
      onlooker.begin(spec);
      Pace pace = paces.get();
      while (watch.end == Watch.End.NOT_YET) {
        long nowNs = pace.next();
        if (abandon.getAsBoolean()) {
          return Optional.empty();
        }
        worstLatenessNs = Math.max(worstLatenessNs, pace.latenessNs());
        bench.exchange(nowNs, out, in);
        check.look(nowNs, out, in, bench.truth());
        in.stage = spec.stage();
        // The approach is recorded without the motor: a turning file would change the tooth.
        in.demand &= spec.expectation() != Expectation.SURVEY;
        readings.look(in);
        if (dut.isPresent()) {
          decide(dut.get(), controller, nowNs);
        } else {
          controller.step(nowNs, in, out);
        }
        if (trace != null) {
          trace.add(nowNs, in, out, controller.stateHash(), bench.truth());
        }
        onlooker.step(nowNs, in, out, bench.truth(), pace.latenessNs());
        watch.look(nowNs, in, out, bench.truth());
        trail.add(nowNs, bench.truth());
        if (watch.decides()) {
          trail.decide(
              nowNs,
              bench.truth(),
              in.sampleTimeNs,
              controller.unfilteredMicrons(),
              controller.unfilteredNs());
        }
      }
    } catch (DutException e) {
      return Optional.of(
          result(spec, watch, out, worstLatenessNs, controller.stateHash(), failed(e)));
    } catch (BenchException e) {
      if (abandon.getAsBoolean()) {
        return Optional.empty();
      }
      return Optional.of(
          result(
              spec,
              watch,
              out,
              worstLatenessNs,
              controller.stateHash(),
              isOfTime(e.fault()) && worstLatenessNs > LATE_NS
                  ? late(worstLatenessNs, " Then: " + e.getMessage())
                  : rigFault(e.fault().name(), e)));
    } finally {
      bench.safeStop();
      onlooker.end();
    }
    Judge.Ruling ruling = new Judge(spec, watch, out, () -> lastChange(controller)).rule();
    if (worstLatenessNs > LATE_NS) {
      ruling = late(worstLatenessNs, "");
    }
    TrialResult result = result(spec, watch, out, worstLatenessNs, controller.stateHash(), ruling);
    return Optional.of(result.with(trail.chain(result)));
  }

  /** The device under test decides; the same controller in this program must decide the same. */
  private void decide(Decider dut, StopController controller, long nowNs)
      throws BenchException, DutException {
    controller.step(nowNs, in, beside);
    dut.step(nowNs, in, out);
    boolean sameState = dut.stateHash() == controller.stateHash();
    if (!sameState || !isSame(out, beside)) {
      throw new DutException(
          DutException.Kind.DUT_DIFFERS,
          "At "
              + nowNs / 1_000_000
              + " ms the board "
              + (sameState
                  ? "gave another output than the same controller in this program."
                  : "was in another state than the same controller in this program."));
    }
  }

  private static boolean isSame(ControllerOutput one, ControllerOutput other) {
    ByteBuffer first = ByteBuffer.allocate(FrameCodec.OUTPUT_BYTES);
    ByteBuffer second = ByteBuffer.allocate(FrameCodec.OUTPUT_BYTES);
    FrameCodec.put(one, first);
    FrameCodec.put(other, second);
    return first.flip().equals(second.flip());
  }

  /** Effects of a late computer: a board without commands, or a reader without data. */
  private static boolean isOfTime(RigFault fault) {
    return fault == RigFault.WATCHDOG || fault == RigFault.NO_ANSWER;
  }

  /** Other events at that time are effects of the late computer. */
  private static Judge.Ruling late(long latenessNs, String then) {
    return new Judge.Ruling(
        Verdict.RIG_FAULT,
        RigFault.LATE.name(),
        "A step came "
            + latenessNs / 1_000_000
            + " ms late; "
            + LATE_NS / 1_000_000
            + " ms is allowed."
            + then);
  }

  private static String lastChange(StopController controller) {
    Event event = new Event();
    long count = controller.events().count();
    if (count > 0) {
      controller.events().get(count - 1, event);
    }
    return Explain.event(event);
  }

  /**
   * The result of a trial whose bench could not even be opened.
   *
   * @param spec what should have been done
   * @param fault why it could not
   * @return a rig fault
   */
  public static TrialResult neverBegun(TrialSpec spec, BenchException fault) {
    return result(
        spec, new Watch(spec), new ControllerOutput(), 0, 0, rigFault(fault.fault().name(), fault));
  }

  /**
   * The result of a trial in which a policy from outside failed.
   *
   * @param spec what should have been done
   * @param failure what the policy did
   * @return a failure that names the policy
   */
  public static TrialResult failed(TrialSpec spec, PolicyFailure failure) {
    return result(
        spec,
        new Watch(spec),
        new ControllerOutput(),
        0,
        0,
        new Judge.Ruling(
            Verdict.FAIL, failure.kind().name(), String.valueOf(failure.getMessage())));
  }

  /**
   * The result of a trial in which a board that is watched as a device failed.
   *
   * @param spec what should have been done
   * @param failure what the board did
   * @return a failure of the board; undecided where the line can be the cause
   */
  public static TrialResult failed(TrialSpec spec, DutException failure) {
    return result(spec, new Watch(spec), new ControllerOutput(), 0, 0, failed(failure));
  }

  private static Judge.Ruling failed(DutException e) {
    Verdict verdict = e.kind() == DutException.Kind.DUT_SILENT ? Verdict.UNDECIDED : Verdict.FAIL;
    return new Judge.Ruling(verdict, e.kind().name(), String.valueOf(e.getMessage()));
  }

  private static Judge.Ruling rigFault(String code, BenchException e) {
    return new Judge.Ruling(Verdict.RIG_FAULT, code, String.valueOf(e.getMessage()));
  }

  static TrialResult result(
      TrialSpec spec,
      Watch seen,
      ControllerOutput out,
      long worstLatenessNs,
      long stateHash,
      Judge.Ruling ruling) {
    boolean stopped = seen.end == Watch.End.STOPPED;
    boolean limited = spec.expectation() == Expectation.DEPTH_LIMIT;
    boolean atLimit = seen.end == Watch.End.AT_LIMIT;
    return new TrialResult(
        spec.index(),
        spec.condition(),
        spec.scene().seed(),
        spec.expectation(),
        ruling.verdict(),
        ruling.code(),
        ruling.message(),
        stopped,
        stopped ? seen.restingMicrons : 0,
        stopped
            ? seen.restingMicrons - spec.standoffMicrons()
            : atLimit ? spec.depthLimitMicrons() - seen.restingDepthMicrons : 0,
        seen.steps == 0 ? 0 : seen.deepestMicrons,
        stopped ? seen.decidedReadingMicrons : 0,
        stopped ? seen.decidedBoundMicrons : 0,
        out.state,
        out.reason,
        stopped ? seen.decidedTrust : out.trust,
        stopped ? seen.decidedCause : out.cause,
        stopped ? seen.decidedNs : 0,
        seen.nowNs,
        seen.steps,
        worstLatenessNs,
        stateHash,
        ErrorChain.NONE,
        limited && seen.depthMeasured
            ? new DepthReached(
                atLimit ? seen.restingDepthMicrons : 0,
                seen.deepestByAxisMicrons - spec.depthLimitMicrons(),
                seen.greatestTorqueMicroNewtonMetres,
                seen.torqueReactions)
            : DepthReached.NONE,
        DeviceTrial.NONE);
  }
}
