package org.stopwell.rig.pi;

import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;

/** A bench on model pins whose clock is the time of the exchanges. */
final class PiRig implements Bench {
  private static final long TICK_NS = 20_000;
  private static final long WATCH_NS = 5_000_000;

  final ModelPins pins = new ModelPins();
  private final Bench canal;
  private final PiBench bench;
  private final AtomicLong clockNs = new AtomicLong();
  private long mountedAtNs;

  PiRig(Bench canal) {
    this.canal = canal;
    bench = new PiBench(station(), canal, () -> pins, clockNs::get);
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
        bench.checkWatchdog();
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

  @Override
  public BenchDescription describe() {
    return bench.describe();
  }

  @Override
  public void open() throws BenchException {
    bench.open();
  }

  @Override
  public Truth truth() {
    return bench.truth();
  }

  @Override
  public void safeStop() {
    bench.safeStop();
  }

  @Override
  public void close() {
    bench.close();
  }
}
