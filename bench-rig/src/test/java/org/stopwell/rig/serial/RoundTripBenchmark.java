package org.stopwell.rig.serial;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.board.TestBoards;

/** One exchange over the real serial library, a pseudo-terminal and an emulated board. */
@State(Scope.Thread)
@BenchmarkMode(Mode.SampleTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class RoundTripBenchmark {
  private static final long PERIOD_NS = 1_000_000;

  private final ControllerOutput command = new ControllerOutput();
  private final ControllerInput reading = new ControllerInput();
  private final EmulatedBoard board;
  private final SerialBench bench;
  private long nowNs;

  /** A board, and a link that is not open yet. */
  public RoundTripBenchmark() {
    try {
      board = EmulatedBoard.start(TestBoards.identity(true, 2000), 0);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    bench = new SerialBench(new SerialLink(board.portName(), SerialLink.BAUD), "serial", null);
  }

  /** Opens the link and mounts a trial. */
  @Setup
  public void open() throws Exception {
    bench.open();
    bench.mount(TestBoards.scene());
  }

  /** Lets the port go. */
  @TearDown
  public void close() {
    bench.close();
    board.close();
  }

  /** Command out, reading back. */
  @Benchmark
  public long pseudoTerminalRoundTrip() throws Exception {
    nowNs += PERIOD_NS;
    bench.exchange(nowNs, command, reading);
    return reading.sampleSequence;
  }
}
