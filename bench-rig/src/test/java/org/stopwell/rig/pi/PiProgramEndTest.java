package org.stopwell.rig.pi;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.ChildProgram;
import org.stopwell.rig.board.TestBoards;
import org.stopwell.rig.virtual.VirtualBench;

/** A program turns the motor at its pins and receives a signal to end. The pins are a model. */
class PiProgramEndTest {
  private static final long MS = 1_000_000;

  @ParameterizedTest
  @ValueSource(strings = {"INT", "TERM"})
  void thePowerGoesBeforeThePinsAreLetGo(String signal) throws Exception {
    Process program = ChildProgram.start(Turning.class, List.of());
    List<String> after = new ArrayList<>();
    try (BufferedReader lines =
        new BufferedReader(
            new InputStreamReader(program.getInputStream(), StandardCharsets.UTF_8))) {
      String line = lines.readLine();
      while (line != null && !line.equals("enable true")) {
        line = lines.readLine();
      }
      ChildProgram.signal(program, signal);
      for (line = lines.readLine(); line != null; line = lines.readLine()) {
        after.add(line);
      }
    } finally {
      program.destroyForcibly();
    }
    int closed = after.indexOf("closed");
    assertTrue(closed > 0, after.toString());
    assertEquals("enable false", after.get(closed - 1), after.toString());
    assertEquals(closed, after.size() - 1, "nothing after it: " + after);
  }

  /** Turns the motor for ever, and prints what the enable relay and the pins do. */
  public static final class Turning {
    private Turning() {}

    /** Takes nothing. */
    public static void main(String[] none) throws Exception {
      ModelPins pins =
          new ModelPins() {
            @Override
            public Output output(String name, int gpio) {
              Output pin = super.output(name, gpio);
              return !name.equals("enable relay")
                  ? pin
                  : high -> {
                    pin.set(high);
                    System.out.println("enable " + high);
                  };
            }

            @Override
            public void close() {
              super.close();
              System.out.println("closed");
            }
          };
      AtomicLong nowNs = new AtomicLong();
      try (Bench bench =
          new PiBench(PiRig.station(), new VirtualBench(MS), () -> pins, nowNs::get)) {
        bench.open();
        bench.mount(TestBoards.scene());
        ControllerInput reading = new ControllerInput();
        while (true) {
          bench.exchange(nowNs.addAndGet(MS), TestBoards.command(Drive.FORWARD), reading);
        }
      }
    }
  }
}
