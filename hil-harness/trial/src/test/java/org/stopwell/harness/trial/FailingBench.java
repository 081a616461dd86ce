package org.stopwell.harness.trial;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;

/** A bench whose cable is pulled at a given time of a given scene. */
public final class FailingBench extends ForwardingBench {
  private final long seed;
  private final long atNs;
  private boolean doomed;

  /** How often the motor was made safe. */
  public int safeStops;

  /** Whether it was closed. */
  public boolean closed;

  public FailingBench(Bench bench, long seed, long atNs) {
    super(bench);
    this.seed = seed;
    this.atNs = atNs;
  }

  @Override
  public void mount(Scene scene) throws BenchException {
    doomed = scene.seed() == seed;
    bench.mount(scene);
  }

  @Override
  public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
      throws BenchException {
    if (doomed && nowNs >= atNs) {
      throw new BenchException(RigFault.PORT_GONE, "port X: gone at " + nowNs + " ns");
    }
    bench.exchange(nowNs, command, reading);
  }

  @Override
  public void safeStop() {
    safeStops++;
    bench.safeStop();
  }

  @Override
  public void close() {
    closed = true;
    bench.close();
  }
}
