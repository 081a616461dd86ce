package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.serial.SerialBench;

/**
 * The canal board's real binary in an instruction-level emulator reads a tooth: resistors and a
 * capacitor at its pins, whose impedance is known in closed form.
 */
class ToothInputTest {
  private static final long MS = 1_000_000;
  private static final int TIMES = 10;
  private static final List<Integer> HERTZ = List.of(300, 1500, 7000, 20_000);

  private final ControllerInput reading = new ControllerInput();
  private final ControllerOutput command = new ControllerOutput();
  private EmulatedCanalBoard board;
  private SerialBench bench;
  private long nowNs;

  @BeforeAll
  static void build() throws Exception {
    Firmware.make("canal-board", "emulators");
  }

  @BeforeEach
  void start() throws Exception {
    board = new EmulatedCanalBoard();
    board.hurries(TIMES);
    bench = board.bench("C-0001");
    bench.open();
    board.home();
  }

  @AfterEach
  void unplug() {
    bench.close();
    board.close();
  }

  private static Scene scene(int number, String zero, String lowestHertz) throws Exception {
    return Scene.of(
        Map.of(
            "canal",
            Map.of("kind", "tooth", "length_mm", "12.43"),
            "tooth",
            Map.of("number", String.valueOf(number), "zero", zero),
            "front_end",
            Map.of(
                "frequency_1_hz",
                lowestHertz,
                "frequency_2_hz",
                "1500",
                "frequency_3_hz",
                "7000",
                "frequency_4_hz",
                "20000")),
        1);
  }

  /** A new set of all four frequencies. */
  private void read() throws Exception {
    board.pass(250);
    nowNs += 300 * MS;
    bench.exchange(nowNs, command, reading);
    assertEquals(PositionKind.IMPEDANCE, reading.positionKind);
    assertEquals(4, reading.frequencyCount);
  }

  @Test
  void theImpedanceOfATwoPoleIsReadWithinFivePercent() throws Exception {
    bench.mount(scene(7, "here", "300"));
    double[][] poles = {{2000, 4000, 20e-9}, {1500, 500, 100e-9}, {4000, 30_000, 5e-9}};
    double worst = 0;
    for (double[] pole : poles) {
      board.tell("tooth %.0f %.0f %.0f".formatted(pole[0], pole[1], pole[2] * 1e12));
      read();
      for (int k = 0; k < HERTZ.size(); k++) {
        double x = 2 * Math.PI * HERTZ.get(k) * pole[1] * pole[2];
        double real = pole[0] + pole[1] / (1 + x * x);
        double imag = -pole[1] * x / (1 + x * x);
        double off =
            Math.hypot(
                    reading.zRealMilliOhms[k] * 1e-3 - real,
                    reading.zImagMilliOhms[k] * 1e-3 - imag)
                / Math.hypot(real, imag);
        worst = Math.max(worst, off);
      }
    }
    assertTrue(worst < 0.05, "worst " + worst);
  }

  @Test
  void theStageIsTheDepthFromTheReferencePointOn() throws Exception {
    board.move(1000);
    BenchException unknown =
        assertThrows(BenchException.class, () -> bench.mount(scene(7, "kept", "300")));
    assertEquals(RigFault.REFUSED, unknown.fault());
    assertTrue(
        String.valueOf(unknown.getMessage()).contains("the stage has no zero for this tooth"),
        unknown::toString);
    bench.mount(scene(7, "here", "300"));
    assertEquals(12_430, bench.truth().remainingMicrons);
    bench.safeStop();
    board.move(2600);
    bench.mount(scene(7, "kept", "300"));
    assertEquals(-570, bench.truth().remainingMicrons, "5 µm per step");
    bench.safeStop();
    assertThrows(BenchException.class, () -> bench.mount(scene(8, "kept", "300")));
  }

  @Test
  void whatTheInputCannotReadIsRefused() throws Exception {
    BenchException low =
        assertThrows(BenchException.class, () -> bench.mount(scene(7, "here", "100")));
    assertTrue(
        String.valueOf(low.getMessage()).contains("the tooth input takes 280 to 20500 Hz, not 100"),
        low::toString);
    BenchException model =
        assertThrows(BenchException.class, () -> bench.mount(scene(0, "kept", "300")));
    assertTrue(
        String.valueOf(model.getMessage()).contains("the plan needs teeth"), model::toString);
  }

  @Test
  void afterASafeStopTheCircuitIsOpen() throws Exception {
    bench.mount(scene(7, "here", "300"));
    read();
    assertTrue(reading.zRealMilliOhms[0] < 10_000_000);
    bench.safeStop();
    nowNs += 20 * MS;
    bench.exchange(nowNs, command, reading);
    assertTrue(reading.zRealMilliOhms[0] >= 2_000_000_000, "open");
    assertTrue(board.move(10).isEmpty(), "the ladder stays open");
  }
}
