package org.stopwell.rig.physics.canal;

import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.virtual.Specimen;

/** One canal at more and more frequencies: cost should follow their number. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 2, time = 1)
@Measurement(iterations = 3, time = 1)
@Fork(1)
public class SweepBenchmark {
  /** How many frequencies one solution holds. */
  @Param({"256", "512", "1024", "2048"})
  public int frequencies;

  private Ladder ladder = new Ladder(1);
  private Admittances foot = new Admittances(0);
  private Admittances surface = new Admittances(0);
  private Admittances file = new Admittances(0);

  /** A benchmark before its canal is built. */
  public SweepBenchmark() {}

  /** Builds the canal of an empty scene, its tip 0.5 mm short of the foramen. */
  @Setup(Level.Trial)
  public void build() throws SettingsException {
    ToothCircuit circuit = (ToothCircuit) new Specimen(Scene.of(Map.of(), 0)).at(0.5e-3);
    ladder = circuit.ladder();
    foot = new Admittances(frequencies);
    surface = new Admittances(frequencies);
    file = new Admittances(frequencies);
    for (int i = 0; i < frequencies; i++) {
      foot.set(i, circuit.foot().re(0), circuit.foot().im(0));
      surface.set(i, circuit.surface().re(0), circuit.surface().im(0) * (1 + i));
    }
  }

  /** All frequencies of one canal. */
  @Benchmark
  public double sweep() {
    ladder.solve(foot, surface, file);
    return file.re(0);
  }
}
