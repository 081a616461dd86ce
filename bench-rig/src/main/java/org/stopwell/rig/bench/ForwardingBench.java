package org.stopwell.rig.bench;

import java.util.List;
import java.util.Optional;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;

/** A bench around another: everything goes to that one, but for what the wrapper changes. */
public abstract class ForwardingBench implements Bench {
  /** The bench behind this one. */
  protected final Bench bench;

  /**
   * Wraps a bench.
   *
   * @param bench the bench behind this one
   */
  protected ForwardingBench(Bench bench) {
    this.bench = bench;
  }

  @Override
  public BenchDescription describe() {
    return bench.describe();
  }

  @Override
  public List<Lack> lacks() {
    return bench.lacks();
  }

  @Override
  public boolean altersReadings() {
    return bench.altersReadings();
  }

  @Override
  public void open() throws BenchException {
    bench.open();
  }

  @Override
  public void mount(Scene scene) throws BenchException {
    bench.mount(scene);
  }

  @Override
  public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
      throws BenchException {
    bench.exchange(nowNs, command, reading);
  }

  @Override
  public Truth truth() {
    return bench.truth();
  }

  @Override
  public Optional<LinearStage> drivenStage() throws BenchException {
    return bench.drivenStage();
  }

  @Override
  public Optional<DeviceWatch> deviceWatch() {
    return bench.deviceWatch();
  }

  @Override
  public Optional<Decider> decider() {
    return bench.decider();
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
