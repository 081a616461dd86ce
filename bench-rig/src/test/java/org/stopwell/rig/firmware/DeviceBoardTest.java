package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.calibration.Calibrator;
import org.stopwell.rig.calibration.Notebook;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.network.ChainParts;
import org.stopwell.rig.network.Impedance;
import org.stopwell.rig.network.Target;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.virtual.ToothChain;

/**
 * The device board's real binary in an instruction-level emulator: what its chain shows, what it
 * sees of a device, and that it never does both with the chain. Simulated.
 */
class DeviceBoardTest {
  private static final long MS = 1_000_000;
  private static final int HOME_MICRONS = 25_000;

  /** Resistors as soldered in the emulator: nominal values, 0.8 % high and low in turn. */
  private static final double[] NOMINAL = nominal();

  private static final int FIRST = 32;
  private static final int RELAYS = 14;

  private final ControllerInput reading = new ControllerInput();
  private final ControllerOutput command = new ControllerOutput();
  private EmulatedDeviceBoard board;
  private SerialBench bench;
  private long nowNs;

  @BeforeAll
  static void build() throws Exception {
    Firmware.make("device-board", "emulators");
  }

  @BeforeEach
  void start() throws Exception {
    board = new EmulatedDeviceBoard();
    board.hurries(10);
    bench = board.bench("W-0001");
    bench.open();
  }

  @AfterEach
  void unplug() {
    bench.close();
    board.close();
  }

  private static Scene chain() throws Exception {
    return Scene.of(
        Map.of(
            "canal", Map.of("kind", "chain", "length_mm", "16"), "fluid", Map.of("level_mm", "12")),
        1);
  }

  private void at(int remainingMicrons) throws Exception {
    board.tell("pace 100");
    board.home();
    board.move(HOME_MICRONS - remainingMicrons);
  }

  private void exchange() throws BenchException {
    nowNs += 10 * MS;
    bench.exchange(nowNs, command, reading);
  }

  /** Mounts; from now on the board's time goes on only with that of the test. */
  private DeviceWatch mounted(int remainingMicrons) throws Exception {
    at(remainingMicrons);
    DeviceWatch watch = bench.deviceWatch().orElseThrow();
    bench.mount(chain());
    board.zero();
    exchange();
    return watch;
  }

  private void pass(int ms) throws Exception {
    board.until(nowNs / MS + ms);
    nowNs += (ms - 10) * MS;
    exchange();
  }

  /** Lets the board's time go by with an exchange each 10 ms of it; all samples. */
  private List<Watched> watch(DeviceWatch watch, int ms) throws Exception {
    List<Watched> seen = new ArrayList<>();
    for (int i = 0; i < ms; i += 10) {
      pass(10);
      watch.drain(seen);
    }
    return seen;
  }

  private static double[] nominal() {
    double[] branch = {
      1.5, 2.8, 5.36, 10.5, 20.5, 40.2, 78.7, 154, 301, 590, 1180, 2320, 4530, 8870
    };
    return Stream.of(
            new double[] {1, 1.82, 3.48, 6.65, 13, 25.5, 49.9, 97.6, 191},
            DoubleStream.generate(() -> 221).limit(20).toArray(),
            new double[] {4_640, 9_090, 15_000},
            branch,
            branch,
            branch,
            new double[] {
              0.806, 1.47, 2.74, 5.23, 10.2, 20, 39.2, 76.8, 150, 294, 576, 1150, 2260, 4420
            })
        .flatMapToDouble(Arrays::stream)
        .toArray();
  }

  static Impedance made(String codes, double hertz) {
    String[] part = codes.substring("codes ".length()).split(" ", -1);
    double[] ohms =
        ChainParts.NOMINAL.leastOhms().stream().mapToDouble(Double::doubleValue).toArray();
    int capacitors = 0;
    for (int k = 1; k < part.length; k++) {
      capacitors |= (Integer.parseInt(part[k], 16) >> RELAYS) << (2 * (k - 1));
    }
    for (int k = 0; k < NOMINAL.length; k++) {
      int segment = k < FIRST ? 0 : 1 + (k - FIRST) / RELAYS;
      int bit = k < FIRST ? k : (k - FIRST) % RELAYS;
      if ((Long.parseLong(part[segment], 16) >> bit & 1) == 1) {
        ohms[segment] += NOMINAL[k] * (k % 2 == 0 ? 1.008 : 0.992);
      }
    }
    return ChainParts.NOMINAL.at(capacitors).impedance(ohms, hertz);
  }

  /** From 10 mm to 1 mm past the foramen, and not one word from the host. */
  @Test
  void the_chain_follows_the_shank_and_shows_the_tooth() throws Exception {
    Map<Double, List<Target>> tooth = ToothChain.targets(chain());
    at(10_500);
    bench.mount(chain());
    exchange();
    board.move(1);
    double magnitude = 0;
    double degrees = 0;
    int relaysMoved = 0;
    for (int microns = 10_000; microns >= -1_000; microns -= 500) {
      List<String> events = board.move(500 - (microns == 10_000 ? 1 : 0));
      List<String> codes = events.stream().filter(e -> e.startsWith("codes ")).toList();
      assertFalse(events.stream().anyMatch(e -> e.startsWith("circuit ")), events.toString());
      relaysMoved += codes.size();
      String last = codes.get(codes.size() - 1);
      double place = microns * 1e-6;
      List<Target> targets =
          tooth.entrySet().stream()
              .filter(e -> Math.abs(e.getKey() - place) < 1e-9)
              .findFirst()
              .orElseThrow()
              .getValue();
      for (Target target : targets) {
        Impedance made = made(last, target.hertz());
        magnitude =
            Math.max(magnitude, Math.abs(made.magnitude() / target.impedance().magnitude() - 1));
        degrees =
            Math.max(degrees, Math.toDegrees(Math.abs(made.phase() - target.impedance().phase())));
      }
    }
    System.out.printf(
        "chain on the board: magnitude to %.4f, phase to %.2f°, %d words%n",
        magnitude, degrees, relaysMoved);
    // The resistors of the emulator are 0.8 % off what the board takes them for.
    assertTrue(magnitude < 0.03, "magnitude " + magnitude);
    assertTrue(degrees < 5, "phase " + degrees);
    assertEquals(PositionKind.ABSENT, reading.positionKind, "it measures nothing");
    exchange();
    assertEquals(-1_000, bench.truth().remainingMicrons, 30);
  }

  /** A relay of the device, and then nothing of the test circuit: whatever the host asks. */
  @Test
  void the_chain_is_never_measured_while_the_device_is_on_it() throws Exception {
    at(5_000);
    board.forget();
    bench.mount(chain());
    exchange();
    board.tell("move 10"); // not by board.move, which forgets what was before
    List<String> seen = new ArrayList<>(board.until("stage "));
    bench.verify();
    bench.mount(chain());
    exchange();
    bench.safeStop();
    board.tell("move 10");
    seen.addAll(board.until("stage "));
    List<String> circuits = seen.stream().filter(e -> e.startsWith("circuit ")).toList();
    assertTrue(circuits.contains("circuit 100"), circuits.toString());
    assertTrue(circuits.contains("circuit 011"), circuits.toString());
    assertTrue(circuits.contains("circuit 010"), circuits.toString());
    for (String each : circuits) {
      boolean device = each.charAt("circuit ".length()) == '1';
      assertTrue(!device || each.equals("circuit 100"), circuits.toString());
    }
    assertEquals("circuit 000", circuits.get(circuits.size() - 1), "apart at the end");
  }

  @Test
  void a_chain_that_leaks_or_strays_or_has_a_welded_relay_is_refused() throws Exception {
    at(5_000);
    assertEquals("", bench.verify().fault());
    assertEquals(30, bench.verify().strayPicoFarads(), 5);
    board.tell("leak 50000");
    BenchException leak = assertThrows(BenchException.class, () -> bench.mount(chain()));
    assertEquals(RigFault.REFUSED, leak.fault());
    assertTrue(String.valueOf(leak.getMessage()).contains("leak "), leak.getMessage());
    assertEquals(50_000, bench.verify().leakKiloOhms(), 8_000);
    board.tell("mend");
    board.tell("stray 90");
    BenchException stray = assertThrows(BenchException.class, () -> bench.mount(chain()));
    assertTrue(String.valueOf(stray.getMessage()).contains("limit 60 pF"), stray.getMessage());
    board.tell("mend");
    board.tell("weld 30");
    BenchException weld = assertThrows(BenchException.class, () -> bench.mount(chain()));
    assertTrue(String.valueOf(weld.getMessage()).contains("resistor 31: "), weld.getMessage());
    board.tell("mend");
    bench.mount(chain());
  }

  /** 300 rpm are 1.8° a millisecond; the motor stops at once, and the samples say so. */
  @Test
  void it_sees_the_file_turn_and_stop_within_two_milliseconds() throws Exception {
    DeviceWatch watch = mounted(3_000);
    board.tell("force 1500");
    board.tell("hear 1");
    board.tell("spin 300000");
    watch(watch, 60);
    List<Watched> turning = watch(watch, 200);
    Watched first = turning.get(0);
    Watched last = turning.get(turning.size() - 1);
    double ms = (last.timeNs() - first.timeNs()) / 1e6;
    assertEquals(1_800, (last.angleMilliDegrees() - first.angleMilliDegrees()) / ms, 10);
    assertEquals(2_003, (turning.size() - 1) / ms * 1_000, 10, "samples a second");
    for (int i = 1; i < turning.size(); i++) {
      long step = turning.get(i).timeNs() - turning.get(i - 1).timeNs();
      assertEquals(499_132, (double) step, 100_000, "the time base, jitter below 0.1 ms");
      long turn = turning.get(i).angleMilliDegrees() - turning.get(i - 1).angleMilliDegrees();
      assertEquals(898, (double) turn, 200, "1° or better at sample " + i);
    }
    assertTrue(last.witnessed());
    assertEquals(1_500, last.forceMilliNewtons(), 40);
    assertEquals(13_000, last.shankMicrons(), 30, "16 mm of canal less 3 mm");

    board.tell("spin 0");
    board.tell("hear 0");
    List<Watched> stopping = watch(watch, 100);
    Watched rest = stopping.get(stopping.size() - 1);
    assertFalse(rest.witnessed());
    assertTrue(watch.circuit().floats(), "the chain after the trial");
    int slow = 0;
    for (int i = 1; i < stopping.size(); i++) {
      long turn = stopping.get(i).angleMilliDegrees() - stopping.get(i - 1).angleMilliDegrees();
      slow += turn > 0 && turn < 600 ? 1 : 0;
    }
    assertTrue(slow <= 2, "from turning to rest in one sample or two: " + slow);
    assertTrue(rest.angleMilliDegrees() > last.angleMilliDegrees());
  }

  /** A leak is not taken for an open cable: its resistors are not measured then. */
  @Test
  void a_leak_and_a_welded_relay_are_told_apart_after_a_trial() throws Exception {
    DeviceWatch watch = mounted(3_000);
    board.tell("leak 50000");
    CircuitCheck leaking = watch.circuit();
    assertTrue(leaking.closed() && !leaking.floats(), leaking.toString());
    board.tell("mend");
    board.tell("weld 30");
    CircuitCheck welded = watch.circuit();
    assertTrue(!welded.closed() && welded.floats(), welded.toString());
    board.tell("mend");
    assertTrue(watch.circuit().closed() && watch.circuit().floats());
  }

  /** A host that is late loses samples, not the angle, the place or the time. */
  @Test
  void a_late_host_spoils_nothing_but_the_samples_it_did_not_take() throws Exception {
    DeviceWatch watch = mounted(3_000);
    board.tell("spin 300000");
    List<Watched> before = watch(watch, 100);
    pass(1_000);
    List<Watched> after = watch(watch, 100);
    Watched a = before.get(before.size() - 1);
    Watched b = after.get(after.size() - 1);
    double ms = (b.timeNs() - a.timeNs()) / 1e6;
    assertTrue(ms > 800, ms + " ms");
    assertEquals(1_800, (b.angleMilliDegrees() - a.angleMilliDegrees()) / ms, 30);
    long widest = 0;
    for (int i = 1; i < after.size(); i++) {
      widest = Math.max(widest, after.get(i).timeNs() - after.get(i - 1).timeNs());
    }
    assertTrue(widest > 500 * MS, "the gap is visible in the times: " + widest);
    assertTrue(after.size() < 2_003 * ms / 1_000 / 2, "and samples are missing: " + after.size());
  }

  /** A mark that slips by 40° is a jump of 40°; a link that is gone is no open cable. */
  @Test
  void a_slipped_mark_and_a_lost_link_are_named_as_what_they_are() throws Exception {
    DeviceWatch watch = mounted(3_000);
    watch(watch, 20);
    board.tell("turn -40000");
    List<Watched> seen = watch(watch, 60);
    int jumps = 0;
    for (int i = 1; i < seen.size(); i++) {
      long turned = seen.get(i).angleMilliDegrees() - seen.get(i - 1).angleMilliDegrees();
      jumps += Math.abs(turned + 40_000) < 100 ? 1 : 0;
    }
    assertEquals(1, jumps);
    board.close();
    BenchException e = assertThrows(BenchException.class, watch::circuit);
    assertEquals(RigFault.PORT_GONE, e.fault(), e.toString());
  }

  @Test
  void samples_are_marked_while_relays_move() throws Exception {
    DeviceWatch watch = mounted(3_000);
    List<Watched> still = watch(watch, 100);
    assertFalse(still.subList(20, still.size()).stream().anyMatch(Watched::marked));
    covers(watch, 4_000, 100, 0.99); // 0.25 mm/s
    covers(watch, 500, 800, 0.95); // 2 mm/s
  }

  /** Moves at one step each so many µs: samples come, and those of moving relays are marked. */
  private void covers(DeviceWatch watch, int pace, int steps, double least) throws Exception {
    board.tell("pace " + pace);
    board.tell("move " + steps);
    List<Watched> moving = watch(watch, 400);
    double span = moving.get(moving.size() - 1).timeNs() - moving.get(0).timeNs();
    double covered = (moving.size() - 1) * 499_132.0 / span;
    System.out.printf("samples while relays move: %.3f of the time%n", covered);
    assertTrue(covered > least, "share of the samples: " + covered);
    long marked = moving.stream().filter(Watched::marked).count();
    assertTrue(marked > 10 && marked < moving.size() / 2, marked + " of " + moving.size());
  }

  /** With the chain as it is wired in the emulator: 30 pF, and no leak that the board can see. */
  @Test
  void leak_and_stray_capacitance_are_calibrated_on_the_board() throws Exception {
    at(3_000);
    Attendant clear =
        new Attendant() {
          @Override
          public void tell(String text) {}

          @Override
          public Optional<String> answer(Question question) {
            return Optional.of("y");
          }
        };
    Notebook notes =
        new Notebook() {
          @Override
          public List<Long> taken(Quantity quantity) {
            return List.of();
          }

          @Override
          public void take(Quantity quantity, long thousandths) {}
        };
    Calibrator calibrator = new Calibrator(bench, clear, notes, 1);
    List<Long> stray = calibrator.readings(Quantity.STRAY).orElseThrow();
    assertEquals(30_000, stray.get(0), 5_000, stray.toString());
    assertTrue(Quantity.STRAY.limit().holds(stray), stray.toString());
    assertTrue(
        Quantity.LEAK.limit().holds(calibrator.readings(Quantity.LEAK).orElseThrow()), "it floats");
    board.tell("stray 90");
    assertFalse(
        Quantity.STRAY.limit().holds(calibrator.readings(Quantity.STRAY).orElseThrow()),
        "wires too long");
    board.tell("mend");
    board.tell("leak 50000");
    List<Long> leak = calibrator.readings(Quantity.LEAK).orElseThrow();
    assertEquals(50_000, leak.get(0), 8_000, "50 MΩ: " + leak);
    assertFalse(Quantity.LEAK.limit().holds(leak));
  }
}
