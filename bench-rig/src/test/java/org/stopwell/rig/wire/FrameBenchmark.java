package org.stopwell.rig.wire;

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

/** Making and opening the largest frame of the loop. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class FrameBenchmark {
  private final Packet reading =
      WireExamples.all().values().stream()
          .filter(p -> p.message() == Message.READING)
          .findFirst()
          .orElseThrow();
  private final FrameWriter writer = new FrameWriter();
  private final FrameReader reader = new FrameReader();
  private final byte[] frame;
  private final int length;

  /** One frame, made once. */
  public FrameBenchmark() {
    length = writer.write(reading);
    frame = writer.bytes().clone();
  }

  /** A reading into a frame. */
  @Benchmark
  public int write() {
    return writer.write(reading);
  }

  /** A frame into a reading. */
  @Benchmark
  public boolean read() {
    boolean good = false;
    for (int i = 0; i < length; i++) {
      good = reader.take(frame[i]);
    }
    return good;
  }
}
