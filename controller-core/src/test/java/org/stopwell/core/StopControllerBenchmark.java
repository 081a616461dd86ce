package org.stopwell.core;

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
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;

/** Time and bytes of one step, over a recording that shows every state. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class StopControllerBenchmark {
  private final StopController controller;
  private final ControllerOutput out = new ControllerOutput();
  private final Recording.Step[] steps;
  private int next;

  /** A controller and its inputs. */
  public StopControllerBenchmark() {
    steps = Recording.ofAWorkingLife().toArray(new Recording.Step[0]);
    try {
      controller =
          new StopController(ControllerSettings.of(Recording.settings(), TestBench.curve()));
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  /** One step. */
  @Benchmark
  public int step() {
    Recording.Step step = steps[next];
    next = next + 1 == steps.length ? 0 : next + 1;
    controller.step(step.nowNs(), step.in(), out);
    return out.speedMilliRpm;
  }

  /** One step and the hash of the whole state. */
  @Benchmark
  public long stepAndHash() {
    step();
    return controller.stateHash();
  }
}
