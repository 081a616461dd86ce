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
 * One canal at one frequency, by our ladder, by a general complex solver, and by ngspice in a sweep
 * long enough that its start does not count. Density multiplies the nodes: cost should follow it.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class SolverBenchmark {
  private static final int SPICE_POINTS = 20_000;

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
        .append(SPICE_POINTS)
        .append(" 690 710\nquit 0\n.endc\n.end\n");
    netlist = Files.createTempFile("canal", ".cir");
    Files.writeString(netlist, text);
  }

  /** Removes the netlist. */
  @TearDown(Level.Trial)
  public void remove() throws IOException {
    Files.deleteIfExists(netlist);
  }

  /** Our elimination of the ladder. */
  @Benchmark
  public double ladder() {
    Ladder ladder = circuit.ladder();
    ladder.solve(circuit.footRe(0), circuit.footIm(0), circuit.surfaceRe(0), circuit.surfaceIm(0));
    return ladder.admittanceRe();
  }

  /** A general complex system by LU factors. */
  @Benchmark
  public double generalSolver() {
    return NodalMatrix.impedance(circuit, 0).real;
  }

  /** One point of a sweep by ngspice, start of the process shared by all points. */
  @Benchmark
  @OperationsPerInvocation(SPICE_POINTS)
  public int ngspice() throws IOException, InterruptedException {
    return new ProcessBuilder("ngspice", "-b", netlist.toString())
        .redirectErrorStream(true)
        .redirectOutput(ProcessBuilder.Redirect.DISCARD)
        .start()
        .waitFor();
  }
}
