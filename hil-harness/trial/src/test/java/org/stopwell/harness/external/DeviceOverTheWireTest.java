package org.stopwell.harness.external;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.board.EmulatedBench;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.device.twin.TwinInside;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.TwinStand;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * The same device on the virtual bench and behind the wire protocol of an emulated board. What is
 * recovered agrees within the stated uncertainty, and the same faults are attributed. Simulated.
 */
class DeviceOverTheWireTest {
  /** A board answers each 20 ms with forty samples. */
  private static final long PERIOD_NS = 20_000_000;

  private record Trial(Acts acts, TwinInside inside) {}

  @ParameterizedTest
  @CsvSource({
    "twin-brake,   false, 0.5",
    "twin-coast,   false, 2",
    "twin-reverse, false, 1.2",
    "twin-own,     false, 0.8",
    "twin-coast,   true,  1",
    "twin-own,     true,  1",
  })
  void theWireChangesNothingThatIsRecovered(String model, boolean resistors, String feed)
      throws Exception {
    ClampedDevice device = new ClampedDevice(model, "u1", "s", 500, "full");
    Scene scene = scene(resistors, feed, 1_000);
    Trial direct;
    try (VirtualBench bench = new VirtualBench(PERIOD_NS)) {
      direct = trial(bench, bench.stand(), device, scene, null);
    }
    Trial wired;
    try (EmulatedBench bench = EmulatedBench.lockstep(PERIOD_NS)) {
      wired = trial(bench, bench.stand(), device, scene, null);
    }
    assertEquals(direct.inside().actMicrons, wired.inside().actMicrons, "the same trial");
    assertEquals(direct.inside().stillNs, wired.inside().stillNs, "the same trial");
    Acts a = direct.acts();
    Acts b = wired.acts();
    String both = a + "\n" + b;
    assertTrue(a.acted() && b.acted(), both);
    assertEquals(Optional.empty(), a.fault(), both);
    assertEquals(Optional.empty(), b.fault(), both);
    assertEquals(a.reversed(), b.reversed(), both);
    assertEquals(a.actMicrons(), b.actMicrons(), a.actBoundMicrons(), both);
    assertEquals(a.stillMicros(), b.stillMicros(), a.stillBoundMicros(), both);
    assertEquals(a.stillMilliDegrees(), b.stillMilliDegrees(), a.stillBoundMilliDegrees(), both);
    assertEquals(a.deepestMicrons(), b.deepestMicrons(), 10, both);
    assertEquals(a.restMicrons(), b.restMicrons(), 10, both);
    assertEquals(wired.inside().actMicrons, b.actMicrons(), b.actBoundMicrons(), both);
  }

  /** What a board finds of its own parts. */
  @ParameterizedTest
  @EnumSource(
      value = DeviceFault.class,
      names = {
        "LEAK",
        "CABLE_OFF",
        "MARK_OFF",
        "MARK_SLIPS",
        "SAMPLES_LOST",
        "CLOCK_SKEW",
        "NETWORK_GLITCH",
        "FILE_SLIPS",
        "NEVER_STARTED",
        "NO_READING"
      })
  void theSameFaultIsAttributedOverTheWire(DeviceFault fault) throws Exception {
    ClampedDevice device = new ClampedDevice("twin-brake", "u1", "s", 500, "full");
    try (EmulatedBench bench = EmulatedBench.lockstep(PERIOD_NS)) {
      Trial seen = trial(bench, bench.stand(), device, scene(false, "1", 7), fault);
      assertEquals(Optional.of(fault), seen.acts().fault(), seen.acts().toString());
    }
  }

  /** The clamp of a board holds the devices of the list and no other. */
  @Test
  void anUnknownDeviceIsRefusedByTheBoard() throws Exception {
    ClampedDevice device = new ClampedDevice("m17", "u1", "s", 500, "full");
    Scene scene = scene(false, "1", 7);
    try (EmulatedBench bench = EmulatedBench.lockstep(PERIOD_NS)) {
      BenchException e =
          assertThrows(
              BenchException.class, () -> trial(bench, bench.stand(), device, scene, null));
      String message = String.valueOf(e.getMessage());
      assertTrue(message.contains("the board refuses device.model"), message);
    }
  }

  private static Scene scene(boolean resistors, String feed, long seed) throws Exception {
    Map<String, String> canal = new LinkedHashMap<>(Map.of("length_mm", "13"));
    if (resistors) {
      canal.putAll(Map.of("kind", "resistors", "ohm_per_mm", "3000"));
    }
    Map<String, String> hand =
        Map.of("motion", "steady", "feed_mm_per_s", feed, "passive_mm", "10");
    return Scene.of(Map.of("canal", canal, "hand", hand), seed);
  }

  private static Trial trial(
      Bench bench, TwinStand stand, ClampedDevice device, Scene scene, @Nullable DeviceFault fault)
      throws Exception {
    bench.open();
    TrialSpec spec =
        new TrialSpec(
            0,
            "all",
            Expectation.STOP,
            Stage.LENGTH,
            device.standoffMicrons(),
            500,
            0,
            0,
            120_000_000_000L,
            scene,
            planned(fault));
    DeviceRunner.Seen seen =
        new DeviceRunner(bench, device, false)
            .run(spec, () -> Pace.lockstep(PERIOD_NS), () -> false)
            .orElseThrow();
    return new Trial(seen.acts(), stand.inside());
  }

  /** As a plan states it. */
  private static List<PlannedFault> planned(@Nullable DeviceFault fault) {
    return Arrays.stream(FaultKind.values())
        .filter(kind -> kind.ofDevice().filter(f -> f == fault).isPresent())
        .map(kind -> new Injection(kind, 0, Long.MAX_VALUE, kind.strength().usual()))
        .map(injection -> new PlannedFault(injection, -1, null, "", 0))
        .toList();
  }
}
