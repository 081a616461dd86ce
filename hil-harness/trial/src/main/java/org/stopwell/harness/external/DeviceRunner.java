package org.stopwell.harness.external;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.HandMotion;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.DeviceWatch;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.fault.FaultyBench;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.time.Pace;

/**
 * Runs a trial of a device with a motor of its own: commands nothing, keeps what the bench watches,
 * and recovers what the device did. No controller takes part, and no truth of the bench is read.
 */
public final class DeviceRunner {
  private final Bench bench;
  private final ClampedDevice device;

  /**
   * A runner.
   *
   * @param bench an open bench
   * @param device the device in its clamp
   */
  public DeviceRunner(Bench bench, ClampedDevice device) {
    this.bench = bench;
    this.device = device;
  }

  /**
   * A trial that was watched.
   *
   * @param acts what the device did
   * @param endNs time of its end, ns
   * @param samples number of samples
   * @param worstLatenessNs the latest exchange, ns
   */
  public record Seen(Acts acts, long endNs, long samples, long worstLatenessNs) {}

  /**
   * Runs one trial and leaves the bench safe.
   *
   * @param spec what to do
   * @param trace receives the samples, or null
   * @param paces gives a time line once the scene is mounted
   * @param abandon asked before every exchange; when true the trial is given up
   * @return what was seen; empty when it was given up
   * @throws BenchException when the bench fails
   */
  public Optional<Seen> run(
      TrialSpec spec, @Nullable WatchedTrace trace, Supplier<Pace> paces, BooleanSupplier abandon)
      throws BenchException {
    DeviceWatch watch =
        bench
            .deviceWatch()
            .orElseThrow(
                () ->
                    new BenchException(
                        RigFault.REFUSED,
                        new Lack(Ability.DEVICE, "the bench " + bench.describe().kind()).clause()));
    ControllerInput in = new ControllerInput();
    ControllerOutput nothing = new ControllerOutput();
    List<Watched> some = new ArrayList<>();
    WatchedTrack track = new WatchedTrack();
    double foramen = Canal.lengthMicrons(spec.scene().section("canal"));
    ParameterValues hand = spec.scene().section("hand");
    Rest rest = new Rest(track, foramen, hand);
    long worst = 0;
    long nowNs = 0;
    int firstCarriage = 0;
    boolean carriageKnown = false;
    boolean ended = false;
    try {
      watch.attach(device);
      watch.play(
          spec.faults().stream()
              .map(f -> f.injection().kind())
              .filter(kind -> !kind.ofController())
              .flatMap(kind -> kind.ofDevice().stream())
              .findFirst());
      bench.mount(spec.scene());
      CircuitCheck before = watch.circuit();
      Pace pace =
          spec.faults().isEmpty()
              ? paces.get()
              : new FaultyBench(bench, spec.faultPlan()).pace(paces.get());
      while (!ended && nowNs < spec.timeLimitNs()) {
        nowNs = pace.next();
        if (abandon.getAsBoolean()) {
          return Optional.empty();
        }
        worst = Math.max(worst, pace.latenessNs());
        bench.exchange(nowNs, nothing, in);
        some.clear();
        watch.drain(some);
        track.addAll(some);
        if (trace != null) {
          trace.addAll(some);
        }
        if (!carriageKnown && in.insertionPresent && track.count() > 0) {
          carriageKnown = true;
          firstCarriage = in.insertionMicrons;
        }
        ended = rest.ended();
      }
      RigSide rig =
          new RigSide(
              before,
              watch.circuit(),
              nowNs,
              worst,
              carriageKnown ? in.insertionMicrons - firstCarriage : 0,
              carriageKnown ? (int) (track.shank(track.count() - 1) - track.shank(0)) : 0,
              hand.getInt(HandSection.FEED),
              isSteady(hand),
              HandSection.motion(hand) == HandMotion.STAGE ? 0 : hand.getInt(HandSection.TREMOR),
              HandSection.motion(hand) == HandMotion.STAGE
                  ? 0
                  : hand.get(HandSection.REACTION) * 1_000_000);
      return Optional.of(
          new Seen(of(track, foramen, rig, spec.standoffMicrons()), nowNs, track.count(), worst));
    } finally {
      bench.safeStop();
    }
  }

  private static boolean isSteady(ParameterValues hand) {
    HandMotion motion = HandSection.motion(hand);
    return motion == HandMotion.STEADY || motion == HandMotion.STAGE;
  }

  static Acts of(WatchedTrack track, double foramen, RigSide rig, int standoffMicrons) {
    Recovery recovery = new Recovery(track, foramen);
    Acts acts = recovery.acts();
    return acts.with(new Attribution(track, recovery, acts, rig, standoffMicrons, foramen).find());
  }
}
