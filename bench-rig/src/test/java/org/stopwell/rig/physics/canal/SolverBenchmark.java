package org.stopwell.rig.physics.canal;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.virtual.Specimen;

/**
 * One canal at one frequency: by our ladder in the same sweep as ngspice, in a sweep so long that
 * the start of its process does not count; by our ladder at two frequencies, as a sample of a trial
 * needs it; and by a general complex solver of a library. Density multiplies the nodes: cost should
 * follow it.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class SolverBenchmark {
  private static final int SWEEP_POINTS = 20_000;

  private final Admittances foot = new Admittances(SWEEP_POINTS);
  private final Admittances surface = new Admittances(SWEEP_POINTS);
  private final Admittances file = new Admittances(SWEEP_POINTS);
  private final Admittances pair = new Admittances(2);

  /** How many times as many nodes as usual. */
  @Param({"1", "2", "4"})
  public int density;

  private ToothCircuit circuit = specimen(1);
  private Path netlist = Path.of("unwritten");

  /** A benchmark before its canal is built. */
  public SolverBenchmark() {}

  private static ToothCircuit specimen(int density) {
    try {
      return (ToothCircuit) new Specimen(Scene.of(Map.of(), 0), density).at(0.5e-3);
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  /** Builds the canal and writes its netlist. */
  @Setup(Level.Trial)
  public void build() throws IOException {
    circuit = specimen(density);
    StringBuilder text = new StringBuilder("* one canal");
    SpiceNetlist.append(text, 0, circuit, 0, 700);
    text.append("\n.control\nac lin ")
        .append(SWEEP_POINTS)
        .append(" 690 710\nquit 0\n.endc\n.end\n");
    netlist = Files.createTempFile("canal", ".cir");
    Files.writeString(netlist, text);
  }

  /** Removes the netlist. */
  @TearDown(Level.Trial)
  public void remove() throws IOException {
    Files.deleteIfExists(netlist);
  }

  /** The sweep of ngspice by our ladder: the same network, every frequency. */
  @Benchmark
  @OperationsPerInvocation(SWEEP_POINTS)
  public double ladderInASweep() {
    double first = 2 * Math.PI * 690;
    double step = 2 * Math.PI * 20 / (SWEEP_POINTS - 1);
    double radPerS = 2 * Math.PI * 700;
    for (int i = 0; i < SWEEP_POINTS; i++) {
      double share = (first + i * step) / radPerS;
      foot.set(i, circuit.foot().re(0), circuit.foot().im(0) * share);
      surface.set(i, circuit.surface().re(0), circuit.surface().im(0) * share);
    }
    circuit.ladder().solve(foot, surface, file);
    return file.re(0);
  }

  /** Two frequencies side by side. */
  @Benchmark
  @OperationsPerInvocation(2)
  public double ladderInPairs() {
    circuit.ladder().solve(circuit.foot(), circuit.surface(), pair);
    return pair.re(0);
  }

  /** A general complex system by LU factors. */
  @Benchmark
  public double generalSolver() {
    return NodalMatrix.impedance(circuit, 0).real;
  }

  /** One point of a sweep by ngspice, start of the process shared by all points. */
  @Benchmark
  @OperationsPerInvocation(SWEEP_POINTS)
  public int ngspice() throws IOException, InterruptedException {
    return new ProcessBuilder("ngspice", "-b", netlist.toString())
        .redirectErrorStream(true)
        .redirectOutput(ProcessBuilder.Redirect.DISCARD)
        .start()
        .waitFor();
  }
}
