package org.stopwell.core.sense;

import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** One prediction and one update: in scalars, and with a general matrix library. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class PositionFilterBenchmark {
  private final PositionFilter scalars = new PositionFilter(700, 300);
  private final MatrixFilter matrices = new MatrixFilter(700, 300);
  private double z;

  /** Both filters, started. */
  public PositionFilterBenchmark() {
    scalars.start(0, 2_500);
    matrices.start(0, 2_500);
  }

  /** The filter of the core. */
  @Benchmark
  public double scalarFilter() {
    z = z > 3_000 ? 0 : z + 1;
    scalars.predict(0.005);
    scalars.update(z, 2_500);
    return scalars.x();
  }

  /** The same filter with EJML. */
  @Benchmark
  public double matrixFilter() {
    z = z > 3_000 ? 0 : z + 1;
    matrices.predict(0.005);
    matrices.update(z, 2_500);
    return matrices.x();
  }
}
