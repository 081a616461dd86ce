package org.stopwell.rig.virtual;

import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;

/** Time of one exchange with the plant, over whole trials of 20 s at a step of 1 ms. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class PlantBenchmark {
  private static final int STEPS = 20_000;
  private static final long STEP_NS = 1_000_000;

  private final Scene scene;
  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private final Truth truth = new Truth();

  /** The scene of all defaults, carried down to the foramen. */
  public PlantBenchmark() {
    try {
      scene = Scene.of(Map.of("hand", Map.of("feed_mm_per_s", "0.8")), 1);
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
    out.speedMilliRpm = 300_000;
    out.torqueLimitMicroNewtonMetres = 6_000;
  }

  /** One exchange: motor, hand, fluid, every fifth time a sample, reading and truth. */
  @Benchmark
  @OperationsPerInvocation(STEPS)
  public int exchange() {
    Plant plant = new Plant(scene);
    out.drive = Drive.OFF;
    for (int step = 1; step <= STEPS; step++) {
      if (step == 2_000) {
        out.drive = Drive.FORWARD;
      }
      plant.advance(step * STEP_NS, out);
      plant.read(in);
      plant.truth(truth);
    }
    return truth.remainingMicrons;
  }
}
