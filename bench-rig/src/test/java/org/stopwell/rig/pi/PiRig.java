package org.stopwell.rig.pi;

import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;

/** A bench on model pins whose clock is the time of the exchanges. */
final class PiRig extends ForwardingBench {
  private static final long TICK_NS = 20_000;
  private static final long WATCH_NS = 5_000_000;

  final ModelPins pins;
  private final Bench canal;
  private final PiBench pi;
  private final AtomicLong clockNs;
  private long mountedAtNs;

  PiRig(Bench canal) {
    this(canal, new ModelPins(), new AtomicLong());
  }

  private PiRig(Bench canal, ModelPins pins, AtomicLong clockNs) {
    this(canal, pins, clockNs, new PiBench(station(), canal, () -> pins, clockNs::get));
  }

  private PiRig(Bench canal, ModelPins pins, AtomicLong clockNs, PiBench pi) {
    super(pi);
    this.canal = canal;
    this.pins = pins;
    this.clockNs = clockNs;
    this.pi = pi;
  }

  static PiStation station() {
    try {
      return PiStation.of(
          Map.of(
              "current_full_scale_ma", "4096",
              "torque_per_amp_ncm", "2",
              "idle_current_ma", "100",
              "encoder_steps_per_turn", ModelPins.STEPS_PER_TURN,
              "full_speed_rpm", "1000"));
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  /** The canal's own time at its newest reading, ns. */
  long canalNs() {
    return canal.truth().timeNs;
  }

  /** Lets time go on without a word from the host. */
  void silent(long ns) {
    for (long done = 0; done < ns; done += TICK_NS) {
      pins.advance(TICK_NS * 1e-9);
      if (clockNs.addAndGet(TICK_NS) % WATCH_NS == 0) {
        pi.checkWatchdog();
      }
    }
  }

  @Override
  public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
      throws BenchException {
    silent(mountedAtNs + nowNs - clockNs.get());
    bench.exchange(nowNs, command, reading);
  }

  @Override
  public void mount(Scene scene) throws BenchException {
    bench.mount(scene);
    mountedAtNs = clockNs.get();
  }
}
