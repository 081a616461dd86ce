package org.stopwell.harness.external;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Decider;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.DutException;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.device.TipSeen;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.fault.FaultyBench;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.time.Pace;

/**
 * Runs a trial of a device with a motor of its own: commands nothing, keeps what the bench watches,
 * and recovers what the device did. No controller takes part, and no truth of the bench is read.
 */
public final class DeviceRunner {
  /** The way of a carriage that nothing measures, µm: it blames no file that slips. */
  private static final int NO_CARRIAGE = Integer.MIN_VALUE / 2;

  private final Bench bench;
  private final ClampedDevice device;
  private final boolean advances;

  /**
   * A runner.
   *
   * @param bench an open bench; a board under test has begun its trial alone
   * @param device the device in its clamp
   * @param advances whether the file advances after the stop until its tip shows at the foramen
   */
  public DeviceRunner(Bench bench, ClampedDevice device, boolean advances) {
    this.bench = bench;
    this.device = device;
    this.advances = advances;
  }

  /**
   * A trial that was watched.
   *
   * @param acts what the device did
   * @param answer what a device that did not turn did in a known network
   * @param endNs time of its end, ns
   * @param samples number of samples
   * @param worstLatenessNs the latest exchange, ns
   * @param trace the trial as it was watched
   */
  public record Seen(
      Acts acts,
      NetworkAnswer answer,
      long endNs,
      long samples,
      long worstLatenessNs,
      WatchedTrace trace) {}

  /**
   * Runs one trial and leaves the bench safe. A device that did not turn is then asked in a known
   * network.
   *
   * @param spec what to do
   * @param paces gives a time line once a scene is mounted
   * @param abandon asked before every exchange; when true the trial is given up
   * @return what was seen; empty when it was given up
   * @throws BenchException when the bench fails
   * @throws DutException when the device is a board under test, and it failed
   */
  public Optional<Seen> run(TrialSpec spec, Supplier<Pace> paces, BooleanSupplier abandon)
      throws BenchException, DutException {
    DeviceWatch watch =
        bench
            .deviceWatch()
            .orElseThrow(
                () ->
                    new BenchException(
                        RigFault.REFUSED,
                        new Lack(Ability.DEVICE, "the bench " + bench.describe().kind()).clause()));
    try {
      watch.attach(device);
      watch.play(
          spec.faults().stream()
              .map(f -> f.injection().kind())
              .filter(kind -> !kind.ofController())
              .flatMap(kind -> kind.ofDevice().stream())
              .findFirst());
      Optional<WatchedTrace> trace = watched(spec, watch, paces, abandon);
      if (trace.isEmpty()) {
        return Optional.empty();
      }
      Seen seen = seen(spec, trace.get());
      if (seen.acts().fault().filter(f -> f == DeviceFault.NEVER_STARTED).isPresent()) {
        bench.safeStop();
        NetworkAnswer answer = new KnownNetwork(bench, watch, paces).ask(spec.scene(), abandon);
        if (abandon.getAsBoolean()) {
          return Optional.empty();
        }
        seen = seen(spec, trace.get().with(answer));
      }
      if (advances && isAtRest(seen)) {
        bench.safeStop();
        Optional<TipSeen> tip = watch.advance(seen.acts().restMicrons());
        if (tip.isPresent()) {
          seen = seen(spec, trace.get().with(tip.get()));
        }
      }
      return Optional.of(seen);
    } finally {
      bench.safeStop();
    }
  }

  /** A file that a device stopped rests, unless the rig failed. */
  private static boolean isAtRest(Seen seen) {
    return seen.acts().acted() && seen.acts().fault().filter(f -> !f.ofDevice()).isEmpty();
  }

  private Optional<WatchedTrace> watched(
      TrialSpec spec, DeviceWatch watch, Supplier<Pace> paces, BooleanSupplier abandon)
      throws BenchException, DutException {
    Optional<Decider> board = bench.decider();
    ControllerInput in = new ControllerInput();
    ControllerOutput nothing = new ControllerOutput();
    List<Watched> some = new ArrayList<>();
    WatchedTrack track = new WatchedTrack();
    Rest rest =
        new Rest(
            track,
            Canal.lengthMicrons(spec.scene().section("canal")),
            spec.scene().section("hand"));
    long worst = 0;
    long nowNs = 0;
    int firstCarriage = 0;
    boolean carriageKnown = false;
    bench.mount(spec.scene());
    CircuitCheck before = watch.circuit();
    Pace pace =
        spec.faults().isEmpty()
            ? paces.get()
            : new FaultyBench(bench, spec.faultPlan()).pace(paces.get());
    for (boolean ended = false; !ended && nowNs < spec.timeLimitNs(); ended = rest.ended()) {
      nowNs = pace.next();
      if (abandon.getAsBoolean()) {
        return Optional.empty();
      }
      worst = Math.max(worst, pace.latenessNs());
      bench.exchange(nowNs, nothing, in);
      if (board.isPresent()) {
        board.get().verify();
      }
      some.clear();
      watch.drain(some);
      track.addAll(some);
      if (!carriageKnown && in.insertionPresent && track.count() > 0) {
        carriageKnown = true;
        firstCarriage = in.insertionMicrons;
      }
    }
    // Without a carriage that is measured its way cannot differ from that of the shank.
    int carriage = carriageKnown ? in.insertionMicrons - firstCarriage : NO_CARRIAGE;
    return Optional.of(
        new WatchedTrace(
            track,
            new RigNotes(
                before,
                watch.circuit(),
                nowNs,
                worst,
                carriage,
                NetworkAnswer.NOT_ASKED,
                Optional.empty())));
  }

  /**
   * What a device did in a trial that was watched, now or when it is replayed.
   *
   * @param spec what was to be done
   * @param trace the trial
   * @return what follows from both
   */
  public static Seen seen(TrialSpec spec, WatchedTrace trace) {
    double foramen = Canal.lengthMicrons(spec.scene().section("canal"));
    Optional<TipSeen> tip = trace.notes().tip();
    if (tip.isPresent()) {
      // The tip says where the foramen is; the measured length counts no more.
      foramen += tip.get().microns() - new Recovery(trace.track(), foramen).acts().restMicrons();
    }
    RigSide rig = RigSide.of(trace, spec.scene().section("hand"));
    Recovery recovery = new Recovery(trace.track(), foramen);
    Acts acts = recovery.acts();
    Attribution attribution =
        new Attribution(trace.track(), recovery, acts, rig, spec.standoffMicrons(), foramen);
    return new Seen(
        acts.with(attribution.find()),
        trace.notes().answer(),
        trace.notes().hostNs(),
        trace.track().count(),
        trace.notes().worstLatenessNs(),
        trace);
  }
}
