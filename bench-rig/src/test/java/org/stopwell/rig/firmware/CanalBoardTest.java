package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.nio.file.Files;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.zip.CRC32C;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.network.Pair;
import org.stopwell.rig.network.StepTable;
import org.stopwell.rig.serial.LinkCounts;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.virtual.ToothSteps;

/**
 * The canal board's real binary in an instruction-level emulator, the real serial library at its
 * UART, and its relays watched at the pins.
 */
class CanalBoardTest {
  private static final long MS = 1_000_000;
  private static final int TIMES = 10;
  private static final int LOW_HZ = 500;
  private static final int HIGH_HZ = 8000;

  /** The resistors of the parts list, ohm; the board believes in these. */
  private static final double[] NOMINAL = {
    10, 20, 40.2, 80.6, 162, 324, 634, 1210, 2370, 4640, 9090, 17800, 34800
  };

  private static final double BASE = 100;

  /** The bank and the two capacitors beside it, nF. */
  private static final double[] NANOFARADS = {0.068, 0.15, 0.22, 0.47, 0.68, 1.5, 2.2, 4.7, 10, 22};

  private static final int MAIN = 0x8000;
  private static final int HOME_MICRONS = 25_000;
  private static final int STEP_MICRONS = 5;

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
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 10_000;
  }

  @AfterEach
  void unplug() {
    bench.close();
    board.close();
  }

  private static Scene resistors(int ohmPerMm) throws Exception {
    return Scene.of(
        Map.of("canal", Map.of("kind", "resistors", "ohm_per_mm", ohmPerMm, "length_mm", "16")), 1);
  }

  private static Scene withCapacitors(String nanofarads) throws Exception {
    return Scene.of(
        Map.of(
            "canal",
            Map.of("kind", "resistors", "length_mm", "16", "parallel_nf", nanofarads),
            "front_end",
            Map.of("frequency_1_hz", "700", "frequency_2_hz", "7000")),
        1);
  }

  private void exchange(Drive drive) throws BenchException {
    nowNs += 5 * MS;
    command.drive = drive;
    bench.exchange(nowNs, command, reading);
  }

  private static double ohms(int word) {
    double sum = BASE;
    for (int k = 0; k < NOMINAL.length; k++) {
      sum += (word >> k & 1) == 1 ? 0 : NOMINAL[k];
    }
    return (word & MAIN) == 0 ? Double.POSITIVE_INFINITY : sum;
  }

  private static double farads(int word) {
    int code = (word >> 13 & 3) << 8 | word >> 16;
    double sum = 0;
    for (int k = 0; k < NANOFARADS.length; k++) {
      sum += (code >> k & 1) * NANOFARADS[k] * 1e-9;
    }
    return sum;
  }

  private void homedAt(int remainingMicrons) throws Exception {
    board.home();
    board.move((HOME_MICRONS - remainingMicrons) / STEP_MICRONS);
  }

  @Test
  void the_parts_without_hardware_keep_their_facts() throws Exception {
    String said = Firmware.make("check");
    assertTrue(said.matches("(\\d\\d+ facts, 0 do not hold\n){3}"), said);
  }

  @Test
  void it_tells_the_hash_of_what_really_runs_and_of_what_it_was_told() throws Exception {
    CRC32C crc = new CRC32C();
    crc.update(image("canal-board.hex"));
    crc.update(image("canal-board.eep"));

    assertEquals(
        "stopwell canal 0.1.0 %08x".formatted(crc.getValue()), bench.describe().firmware());
    assertEquals("C-0001", bench.describe().serialNumber());
  }

  /** The bytes of a file in Intel's hexadecimal format. */
  private static byte[] image(String file) throws Exception {
    ByteArrayOutputStream image = new ByteArrayOutputStream();
    for (String line : Files.readAllLines(Firmware.file(file))) {
      byte[] bytes = HexFormat.of().parseHex(line.substring(1));
      if (bytes[3] == 0) {
        assertEquals(
            image.size(), ((bytes[1] & 0xFF) << 8) | (bytes[2] & 0xFF), "no gap in the image");
        image.write(bytes, 4, bytes[0] & 0xFF);
      }
    }
    return image.toByteArray();
  }

  @Test
  void nothing_is_mounted_before_the_stage_was_home() throws Exception {
    Scene scene = resistors(3000);
    BenchException e = assertThrows(BenchException.class, () -> bench.mount(scene));

    assertEquals(RigFault.REFUSED, e.fault());
    assertTrue(String.valueOf(e.getMessage()).contains("home switch"), e.getMessage());
  }

  @Test
  void a_model_is_refused_with_the_key_that_cannot_be() throws Exception {
    board.home();
    Scene field = Scene.of(Map.of("canal", Map.of("kind", "field")), 1);
    BenchException e = assertThrows(BenchException.class, () -> bench.mount(field));

    assertEquals(RigFault.REFUSED, e.fault());
    assertTrue(String.valueOf(e.getMessage()).contains("refuses canal.kind"), e.getMessage());
  }

  /**
   * From 17 mm to 1 mm past the foramen, 3600 steps of the encoder, and not one word from the host.
   */
  @Test
  void the_relays_follow_the_stage_while_the_host_is_silent() throws Exception {
    homedAt(17_000);
    bench.mount(resistors(3000));
    List<Integer> words = board.move(3600);

    double before = Double.POSITIVE_INFINITY;
    for (int word : words.subList(words.lastIndexOf(0) + 1, words.size())) {
      assertTrue(ohms(word) < before, "falls all the way: " + before + ", " + ohms(word));
      assertTrue(before - ohms(word) < 60 || Double.isInfinite(before), "no jump of 20 µm");
      before = ohms(word);
    }
    assertEquals(6500 - 3000, before, 7, "3500 ohm past the foramen, to half a step of the ladder");
    assertTrue(words.size() > 1000, words.size() + " words");
  }

  @Test
  void it_reads_its_own_ladder_and_tells_where_the_stage_is() throws Exception {
    homedAt(2_000);
    bench.mount(resistors(3000));
    LinkCounts before = bench.counts();
    int exchanges = 20;
    for (int i = 0; i < exchanges; i++) {
      exchange(Drive.OFF);
    }

    assertEquals(2_000, bench.truth().remainingMicrons);
    assertEquals(PositionKind.IMPEDANCE, reading.positionKind);
    assertEquals(2, reading.frequencyCount);
    assertEquals(7000, reading.frequencyHz[1]);
    // The emulator's resistors are 1 % off their nominal values, the converter a little more.
    assertEquals(12_500_000, reading.zRealMilliOhms[0], 300_000);
    assertTrue(reading.sampleSequence > 5, "samples " + reading.sampleSequence);
    assertTrue(reading.sampleTimeNs > 0 && reading.sampleTimeNs <= nowNs);
    assertEquals(0, bench.counts().received().bad());
    long again = bench.counts().resent() - before.resent();
    assertTrue(again < exchanges / 2, "it answers at once, if the machine is not busy: " + again);
  }

  /** 12.5 kΩ across 10 nF: x = 2πfRC is 0.5498 at 700 Hz, so R/(1 + x²) is 9599 Ω (computed). */
  @Test
  void capacitors_go_across_the_ladder_and_into_the_reading() throws Exception {
    homedAt(2_000);
    bench.mount(withCapacitors("10"));
    board.forget();
    exchange(Drive.OFF);
    int word = board.move(200).get(0);
    assertEquals(1, word >> 13 & 3, "the relay of 10 nF and not that of 22 nF");
    board.move(-200);
    for (int i = 0; i < 20; i++) {
      exchange(Drive.OFF);
    }

    assertEquals(9_599_000, reading.zRealMilliOhms[0], 240_000);
    assertEquals(-5_277_000, reading.zImagMilliOhms[0], 132_000);
    assertTrue(reading.zRealMilliOhms[1] < 500_000, reading.zRealMilliOhms[1] + " at 7 kHz");
    Scene cannot = withCapacitors("50");
    BenchException e = assertThrows(BenchException.class, () -> bench.mount(cannot));
    assertTrue(String.valueOf(e.getMessage()).contains("canal.parallel_nf"), e.getMessage());
  }

  @Test
  void a_silent_host_leaves_an_open_circuit_and_hears_of_it() throws Exception {
    homedAt(2_000);
    bench.mount(resistors(3000));
    exchange(Drive.OFF);
    board.move(1); // the events of the relays at the mount have been reported by now
    board.forget();
    exchange(Drive.FORWARD);
    board.await("word 000000");

    BenchException e = assertThrows(BenchException.class, () -> exchange(Drive.FORWARD));
    assertEquals(RigFault.WATCHDOG, e.fault(), e.getMessage());
  }

  @Test
  void a_safe_stop_opens_the_circuit_until_the_next_mount() throws Exception {
    homedAt(2_000);
    bench.mount(resistors(3000));
    exchange(Drive.OFF);
    board.move(1);
    board.forget();
    bench.safeStop();
    board.await("word 000000");
    exchange(Drive.FORWARD);
    assertEquals(List.of(), board.move(200), "no relay moves");

    nowNs = 0;
    bench.mount(resistors(3000));
    exchange(Drive.OFF);
    assertTrue(board.move(10).size() > 1);
  }

  @Test
  void a_reset_opens_the_circuit_and_ends_the_session() throws Exception {
    homedAt(2_000);
    bench.mount(resistors(3000));
    exchange(Drive.OFF);
    board.move(1);
    board.forget();
    board.tell("reset");
    board.await("word 000000");

    BenchException e = assertThrows(BenchException.class, () -> exchange(Drive.FORWARD));
    assertEquals(RigFault.SESSION_LOST, e.fault(), e.getMessage());
  }

  @Test
  void a_welded_relay_is_found_before_the_trial() throws Exception {
    homedAt(2_000);
    board.tell("weld 9");
    Scene scene = resistors(3000);
    BenchException e = assertThrows(BenchException.class, () -> bench.mount(scene));
    assertTrue(String.valueOf(e.getMessage()).contains("resistor 9: "), e.getMessage());
    assertTrue(String.valueOf(e.getMessage()).contains("4740 ohm wanted"), e.getMessage());

    board.tell("mend");
    bench.mount(scene);
  }

  private static Scene network() throws Exception {
    return Scene.of(
        Map.of(
            "canal",
            Map.of("kind", "network"),
            "fluid",
            Map.of("level_mm", "12"),
            "front_end",
            Map.of("frequency_1_hz", "" + LOW_HZ, "frequency_2_hz", "" + HIGH_HZ)),
        1);
  }

  /** Magnitude of a resistor and a capacitor side by side, Ω. */
  private static double magnitude(double ohms, double farads, double hertz) {
    return 1 / Math.hypot(1 / ohms, 2 * Math.PI * hertz * farads);
  }

  /**
   * From 11 mm to 1 mm past the foramen: both relays' words at the pins, and no word of the host.
   */
  @Test
  void the_network_shows_both_magnitudes_of_the_tooth_wherever_the_stage_stands() throws Exception {
    Scene scene = network();
    StepTable tooth = ToothSteps.of(scene);
    homedAt(11_500);
    bench.mount(scene);
    int word = 0;
    double worstRatio = 0;
    double worstMagnitude = 0;
    for (int microns = 11_000; microns >= -1_000; microns -= 500) {
      List<Integer> words = board.move(500 / STEP_MICRONS);
      word = words.isEmpty() ? word : words.get(words.size() - 1);
      Pair wanted = tooth.at(microns * 1e-6);
      double low = magnitude(wanted.ohms(), wanted.farads(), LOW_HZ);
      double high = magnitude(wanted.ohms(), wanted.farads(), HIGH_HZ);
      double lowMade = magnitude(ohms(word), farads(word), LOW_HZ);
      double highMade = magnitude(ohms(word), farads(word), HIGH_HZ);
      worstRatio = Math.max(worstRatio, Math.abs(highMade / lowMade / (high / low) - 1));
      worstMagnitude = Math.max(worstMagnitude, Math.abs(lowMade / low - 1));
      worstMagnitude = Math.max(worstMagnitude, Math.abs(highMade / high - 1));
    }
    System.out.printf("network: ratio to %.4f, magnitudes to %.4f%n", worstRatio, worstMagnitude);
    assertTrue(worstRatio < 0.02, "ratio off by " + worstRatio);
    assertTrue(worstMagnitude < 0.02, "a magnitude off by " + worstMagnitude);
    for (int i = 0; i < 20; i++) {
      exchange(Drive.OFF);
    }
    assertEquals(-1_000, bench.truth().remainingMicrons);
    Pair there = tooth.at(-1e-3);
    assertEquals(
        magnitude(there.ohms(), there.farads(), HIGH_HZ) * 1e3,
        Math.hypot(reading.zRealMilliOhms[1], reading.zImagMilliOhms[1]),
        200_000,
        "the reading is that of the network");
  }

  @Test
  void a_capacitor_that_is_off_or_short_is_found_before_the_trial() throws Exception {
    homedAt(2_000);
    Scene scene = network();
    bench.mount(scene);
    for (int k : new int[] {0, 5, 9}) { // the rest in the test of the parts without hardware
      board.tell("cut " + k);
      String why =
          String.valueOf(assertThrows(BenchException.class, () -> bench.mount(scene)).getMessage());
      assertTrue(why.contains(" capacitor " + k + ": "), why);
    }
    board.tell("mend");
    board.tell("short 4");
    BenchException e = assertThrows(BenchException.class, () -> bench.mount(scene));
    assertEquals(RigFault.REFUSED, e.fault());
    assertTrue(String.valueOf(e.getMessage()).contains("leak of capacitor 4: "), e.getMessage());
    bench.mount(resistors(3000));
    board.tell("mend");
    bench.mount(scene);
  }
}
