package org.stopwell.harness.detect;

import java.util.ArrayDeque;
import java.util.Deque;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.random.RandomStream;

/**
 * A bench whose position signal is old but marked fresh: sequence number and time of the newest
 * sample with the values of an older one. It represents a defect of the controller, not a slow
 * bench, whose delay the controller knows.
 */
final class SpoiledSignal extends ForwardingBench {
  private static final long PERIOD_NS = 1_000_000_000;

  /** The values of one sample and its arrival time. */
  private record Sample(long nowNs, ControllerInput in) {}

  private final long lateNs;
  private final long heldNs;
  private final Deque<Sample> samples = new ArrayDeque<>();
  private long phaseNs;
  private long lastSequence;

  SpoiledSignal(Bench bench, long lateNs, long heldNs) {
    super(bench);
    this.lateNs = lateNs;
    this.heldNs = heldNs;
  }

  @Override
  public boolean altersReadings() {
    return true;
  }

  @Override
  public void mount(Scene scene) throws BenchException {
    samples.clear();
    lastSequence = -1;
    phaseNs = (long) (RandomStream.of(scene.seed(), "phase of the hold").nextDouble() * PERIOD_NS);
    bench.mount(scene);
  }

  @Override
  public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
      throws BenchException {
    bench.exchange(nowNs, command, reading);
    if (reading.sampleSequence != lastSequence) {
      lastSequence = reading.sampleSequence;
      ControllerInput copy = new ControllerInput();
      copy.copyFrom(reading);
      samples.addLast(new Sample(nowNs, copy));
    }
    long visibleNs = visibleNs(nowNs);
    while (samples.size() > 1 && second().nowNs() <= visibleNs) {
      samples.removeFirst();
    }
    if (!samples.isEmpty()) {
      replace(reading, samples.getFirst().in());
    }
  }

  private Sample second() {
    var all = samples.iterator();
    all.next();
    return all.next();
  }

  /** The newest sample that is let through came at this time. */
  private long visibleNs(long nowNs) {
    long intoPeriod = Math.floorMod(nowNs + phaseNs, PERIOD_NS);
    return intoPeriod < heldNs ? nowNs - intoPeriod : nowNs - lateNs;
  }

  private static void replace(ControllerInput in, ControllerInput old) {
    in.positionKind = old.positionKind;
    in.frequencyCount = old.frequencyCount;
    for (int i = 0; i < ControllerInput.MAX_FREQUENCIES; i++) {
      in.frequencyHz[i] = old.frequencyHz[i];
      in.zRealMilliOhms[i] = old.zRealMilliOhms[i];
      in.zImagMilliOhms[i] = old.zImagMilliOhms[i];
    }
    in.railed = old.railed;
    in.distanceMicrons = old.distanceMicrons;
  }
}
