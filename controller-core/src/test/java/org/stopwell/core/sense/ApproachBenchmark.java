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
import org.stopwell.core.TestWeights;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;

/** What the estimate from the whole approach costs: a sample, and every fourth time an estimate. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class ApproachBenchmark {
  private final ControllerInput in = new ControllerInput();
  private final DepthEstimate estimate = new DepthEstimate(15, 4, TestWeights.SHIPPED);
  private double mm = 8;

  /** A benchmark at the top of a made-up canal. */
  public ApproachBenchmark() {
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = ControllerInput.MAX_FREQUENCIES;
  }

  private void next() {
    mm = mm < 0.5 ? 8 : mm - 0.004;
    for (int i = 0; i < ControllerInput.MAX_FREQUENCIES; i++) {
      in.zRealMilliOhms[i] = (int) ((4000 + 3000 * mm) * (1000 - 50 * i));
      in.zImagMilliOhms[i] = -in.zRealMilliOhms[i] / (8 + 2 * i);
    }
  }

  /** One sample into the memory of the approach. */
  @Benchmark
  public boolean oneSample() {
    next();
    return estimate.add(in);
  }

  /** One sample and the estimate anew: the dearest step. */
  @Benchmark
  public double sampleAndEstimate() {
    next();
    estimate.add(in);
    estimate.update(false);
    return estimate.remainingMm();
  }

  /** One sample and the estimate anew with a learned canal: two networks. */
  @Benchmark
  public double sampleAndEstimateWithLearnedCanal() {
    next();
    estimate.add(in);
    if (!estimate.recorded()) {
      estimate.update(false);
      estimate.record();
    }
    estimate.update(true);
    return estimate.remainingMm();
  }
}
