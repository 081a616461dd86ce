package org.stopwell.harness.external;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.plan.Device;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.device.TipSeen;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.device.twin.TwinInside;
import org.stopwell.rig.device.twin.Twins;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * What a device did is recovered from rotation and depth alone. The devices are simulated: what is
 * inside them is known here, and to nobody else.
 */
class BlackBoxTest {
  private static final long MS = 1_000_000;

  /** Trials of the comparison; docs/proof.md has the long form with 1000. */
  private static final int TRIALS = Integer.getInteger("stopwell.device.trials", 40);

  private static final List<String> FEEDS = List.of("0.3", "0.5", "0.8", "1.2", "2");

  private record Compared(Acts acts, TwinInside inside, DeviceRunner.Seen seen) {}

  /** Everything stated is within its stated uncertainty in at least 93 % of the trials. */
  @Test
  void whatIsRecoveredAgreesWithWhatIsInside() throws Exception {
    RandomStream random = RandomStream.of(26, "devices");
    int agree = 0;
    int goodTrips = 0;
    int goodTimes = 0;
    double tenTrips = 0;
    double worstTen = 0;
    List<String> others = new ArrayList<>();
    try (VirtualBench bench = bench()) {
      for (int i = 0; i < TRIALS; i++) {
        String model = Twins.models().get(i % 4);
        boolean resistors = i / 4 % 2 == 1 && (i % 4 == 1 || i % 4 == 3);
        Map<String, String> hand = new LinkedHashMap<>();
        hand.put("motion", List.of("stage", "steady", "hesitating").get(i / 8 % 3));
        hand.put("feed_mm_per_s", FEEDS.get((int) random.nextBetween(0, 4.999)));
        hand.put("reaction_ms", Integer.toString((int) random.nextBetween(0, 250)));
        hand.put("tremor_um", Integer.toString((int) random.nextBetween(0, 36)));
        Compared c =
            trial(
                bench,
                new ClampedDevice(model, "u" + i % 5, "s", 500, "full"),
                scene(resistors, hand, 1000 + i),
                null);
        // A device that loses the fluid at its surface really stops, or turns back, far too early.
        Set<Optional<DeviceFault>> expected =
            c.inside().actMicrons > 2_500
                ? Set.of(
                    Optional.of(DeviceFault.FALSE_STOP), Optional.of(DeviceFault.REVERSED_SHORT))
                : Set.of(Optional.empty());
        assertTrue(expected.contains(c.acts().fault()), "trial " + i + " " + c.acts());
        assertTrue(c.acts().acted(), "trial " + i + " " + c.acts());
        double trip = c.acts().actMicrons() - c.inside().actMicrons;
        double still =
            c.acts().stillMicros() * 1e-3 - (c.inside().stillNs - c.inside().actedNs) * 1e-6;
        double turned =
            c.acts().stillMilliDegrees() * 1e-3
                - Math.toDegrees(c.inside().stillRadians - c.inside().actRadians);
        double deepest = c.acts().deepestMicrons() - c.inside().deepestMicrons;
        boolean all =
            Math.abs(trip) <= c.acts().actBoundMicrons()
                && Math.abs(still) <= c.acts().stillBoundMicros() * 1e-3
                && Math.abs(turned) <= c.acts().stillBoundMilliDegrees() * 1e-3
                && Math.abs(deepest) <= 12;
        agree += all ? 1 : 0;
        if (!all) {
          others.add(
              "%d %s trip %.1f (±%d) still %.2f (±%.2f) turned %.2f (±%.2f) deepest %.1f"
                  .formatted(
                      i,
                      model,
                      trip,
                      c.acts().actBoundMicrons(),
                      still,
                      c.acts().stillBoundMicros() * 1e-3,
                      turned,
                      c.acts().stillBoundMilliDegrees() * 1e-3,
                      deepest));
        }
        goodTrips += Math.abs(trip) <= 20 ? 1 : 0;
        goodTimes += Math.abs(still) <= 2 ? 1 : 0;
        tenTrips += trip;
        if (i % 10 == 9) {
          worstTen = Math.max(worstTen, Math.abs(tenTrips / 10));
          tenTrips = 0;
        }
      }
    }
    String found =
        "%d of %d trials agree; trip within 20 µm in %d, worst mean of ten %.1f µm, time to standstill within 2 ms in %d"
            .formatted(agree, TRIALS, goodTrips, worstTen, goodTimes);
    if (TRIALS > 100) {
      System.out.println(found); // the long form has its numbers in docs/proof.md
    }
    assertTrue(agree >= 0.93 * TRIALS, found + "\n" + others);
    assertTrue(goodTrips >= 0.99 * TRIALS, found + "\n" + others);
    assertTrue(worstTen <= 10, found);
    assertTrue(goodTimes >= 0.98 * TRIALS, found + "\n" + others);
  }

  /** On a network of resistors the overshoot per feed is the time from sense to act. */
  @Test
  void theHiddenDelayIsRecoveredFromTheOvershootPerFeed() throws Exception {
    List<OvershootFit.Point> points = new ArrayList<>();
    double lagMs = 0;
    try (VirtualBench bench = bench()) {
      for (int i = 0; i < 40; i++) {
        String feed = List.of("0.5", "1", "1.5", "2").get(i % 4);
        Map<String, String> hand = Map.of("motion", "stage", "feed_mm_per_s", feed);
        Compared c =
            trial(
                bench,
                new ClampedDevice("twin-coast", "u2", "s", 500, "full"),
                scene(true, hand, 500 + i),
                null);
        lagMs = c.inside().lagNs * 1e-6;
        points.add(new OvershootFit.Point(c.acts().feedMicronsPerSecond(), c.acts().actMicrons()));
      }
    }
    OvershootFit fit = OvershootFit.of(points);
    assertEquals(lagMs, fit.overshootMs(), 2, "inside " + lagMs + " ms: " + fit);
    assertTrue(Math.abs(lagMs - fit.overshootMs()) <= fit.overshootBoundMs(), fit.toString());
  }

  /** The file rests before the hand takes it out, and the device turns again on the way. */
  @Test
  void theHysteresisIsWhereADeviceTurnsAgainOnTheWayOut() throws Exception {
    Map<String, String> hand =
        Map.of("motion", "stage", "feed_mm_per_s", "0.5", "after_stop", "withdraw");
    try (VirtualBench bench = bench()) {
      Compared c =
          trial(
              bench,
              new ClampedDevice("twin-brake", "u1", "s", 500, "full"),
              scene(false, hand, 3),
              null);
      int hysteresis = c.acts().restartMicrons() - c.acts().actMicrons();
      assertTrue(hysteresis > 400 && hysteresis < 700, c.acts().toString());
      assertEquals(c.inside().deepestMicrons, c.acts().restMicrons(), 12, c.acts().toString());
      assertEquals(Optional.empty(), c.acts().fault(), c.acts().toString());
    }
  }

  /** The shipped plan of device faults plays them in another model: DeviceFaultsTest. */
  @ParameterizedTest
  @EnumSource(DeviceFault.class)
  void everyFaultIsAttributed(DeviceFault fault) throws Exception {
    Map<String, String> hand = Map.of("motion", "steady", "feed_mm_per_s", "1");
    ClampedDevice device = new ClampedDevice("twin-own", "u1", "s", 500, "full");
    try (VirtualBench bench = bench()) {
      Compared c = trial(bench, device, scene(false, hand, 7), fault);
      assertEquals(Optional.of(fault), c.acts().fault(), c.acts().toString());
    }
  }

  @Test
  void aTrialIsReadAsItWasKept() {
    WatchedTrack track = new WatchedTrack();
    List<Watched> samples =
        List.of(
            new Watched(500_000, -88, 3, 250, false, true),
            new Watched(1_000_000, 1L << 40, -7, -1, true, false),
            new Watched(Long.MAX_VALUE, Long.MIN_VALUE, Integer.MIN_VALUE, 5, true, true),
            new Watched(1_500_000, 0, Integer.MAX_VALUE, 5, false, false));
    track.addAll(samples);
    RigNotes notes =
        new RigNotes(
            new CircuitCheck(true, 900_000, 31),
            new CircuitCheck(false, 7, 70),
            2_000_000,
            -3,
            -12,
            NetworkAnswer.STAYED,
            Optional.of(new TipSeen(512, 26)));
    byte[] bytes = new WatchedTrace(track, notes).bytes();
    assertTrue(WatchedTrace.isOne(bytes));
    WatchedTrace read = WatchedTrace.read(bytes);
    assertEquals(notes, read.notes());
    assertEquals(samples.size(), read.track().count());
    for (int i = 0; i < samples.size(); i++) {
      for (int column = 0; column < 5; column++) {
        assertEquals(track.value(column, i), read.track().value(column, i), column + " " + i);
      }
    }
    for (int length = 0; length < bytes.length; length++) {
      byte[] cut = Arrays.copyOf(bytes, length);
      assertThrows(IllegalArgumentException.class, () -> WatchedTrace.read(cut), "cut " + length);
    }
    byte[] longer = Arrays.copyOf(bytes, bytes.length + 1);
    assertThrows(IllegalArgumentException.class, () -> WatchedTrace.read(longer));
  }

  /** In a dry canal a device has no reading; the same device starts in the known network. */
  @ParameterizedTest
  @ValueSource(strings = {"twin-brake", "twin-own"})
  void aDeviceWithoutAReadingIsToldFromOneThatNeverStarts(String model) throws Exception {
    ClampedDevice device = new ClampedDevice(model, "u1", "s", 500, "full");
    Scene dry =
        Scene.of(
            Map.of(
                "canal",
                Map.of("length_mm", "13"),
                "fluid",
                Map.of("level_mm", "0"),
                "hand",
                Map.of("motion", "stage", "feed_mm_per_s", "2", "passive_mm", "10")),
            5);
    try (VirtualBench bench = bench()) {
      Compared none = trial(bench, device, dry, null);
      assertEquals(Optional.of(DeviceFault.NO_READING), none.acts().fault());
      assertEquals(NetworkAnswer.TURNED, none.seen().answer());
      Compared never = trial(bench, device, dry, DeviceFault.NEVER_STARTED);
      assertEquals(Optional.of(DeviceFault.NEVER_STARTED), never.acts().fault());
      assertEquals(NetworkAnswer.STAYED, never.seen().answer());
      Device planned = new Device(model, "u1", "o1", "1", "s", 500, "full", false);
      TrialResult refused =
          DeviceJudge.judge(spec(device, dry, List.of()), planned, "T1", none.seen());
      assertEquals(TrialResult.NO_READING, refused.code());
      assertTrue(refused.refused() && !refused.driven(), "it says nothing about over-travel");
      TrialResult unstarted =
          DeviceJudge.judge(spec(device, dry, List.of()), planned, "T1", never.seen());
      assertTrue(unstarted.neverStarted() && !unstarted.driven(), unstarted.code());
      for (Compared c : List.of(none, never)) {
        DeviceRunner.Seen again =
            DeviceRunner.seen(
                spec(device, dry, List.of()), WatchedTrace.read(c.seen().trace().bytes()));
        assertEquals(c.acts(), again.acts(), "the same from what was kept");
      }
    }
  }

  /** The tip that an observer sees says where the foramen is; a wrong measured length does not. */
  @Test
  void anAdvanceGivesTheStopErrorInPlaceOfTheMeasuredLength() throws Exception {
    Map<String, String> hand = Map.of("motion", "stage", "feed_mm_per_s", "1");
    ClampedDevice device = new ClampedDevice("twin-coast", "u1", "s", 500, "full");
    Scene really = scene(false, hand, 11);
    Scene measured =
        really.taking("canal", Scene.of(Map.of("canal", Map.of("length_mm", "13.2")), 11));
    try (VirtualBench virtual = bench()) {
      Bench bench =
          new ForwardingBench(virtual) {
            @Override
            public void mount(Scene scene) throws BenchException {
              super.mount(really);
            }

            @Override
            public Optional<DeviceWatch> deviceWatch() {
              return Optional.of(new Onlooker(virtual));
            }
          };
      TrialSpec spec = spec(device, measured, List.of());
      DeviceRunner.Seen by =
          new DeviceRunner(bench, device, false)
              .run(spec, () -> Pace.lockstep(MS), () -> false)
              .orElseThrow();
      double inside = virtual.stand().inside().restMicrons;
      assertEquals(inside + 200, by.acts().restMicrons(), 15, "the length is wrong by 0.2 mm");
      DeviceRunner.Seen seen =
          new DeviceRunner(bench, device, true)
              .run(spec, () -> Pace.lockstep(MS), () -> false)
              .orElseThrow();
      assertEquals(inside + 7, seen.acts().restMicrons(), 2, seen.acts().toString());
      assertEquals(
          virtual.stand().inside().actMicrons + 7,
          seen.acts().actMicrons(),
          20,
          "so does the trip");
      DeviceRunner.Seen again = DeviceRunner.seen(spec, WatchedTrace.read(seen.trace().bytes()));
      assertEquals(seen.acts(), again.acts(), "a replay needs no observer");
    }
  }

  /** Sees the tip 7 µm late. */
  private record Onlooker(VirtualBench bench) implements DeviceWatch {
    @Override
    public void attach(ClampedDevice device) {
      bench.stand().attach(device);
    }

    @Override
    public void drain(List<Watched> into) {
      bench.stand().drain(into);
    }

    @Override
    public Optional<TipSeen> advance(int expectedMicrons) {
      return Optional.of(new TipSeen((int) bench.stand().inside().restMicrons + 7, 26));
    }
  }

  private static VirtualBench bench() {
    VirtualBench bench = new VirtualBench(MS);
    bench.open();
    return bench;
  }

  private static Scene scene(boolean resistors, Map<String, String> hand, long seed)
      throws Exception {
    Map<String, String> moved = new LinkedHashMap<>(hand);
    moved.put("passive_mm", "10");
    return Scene.of(
        Map.of(
            "canal",
            resistors
                ? Map.of("kind", "resistors", "ohm_per_mm", "3000", "length_mm", "13")
                : Map.of("length_mm", "13"),
            "hand",
            moved),
        seed);
  }

  private static Compared trial(
      VirtualBench bench, ClampedDevice device, Scene scene, @Nullable DeviceFault fault)
      throws Exception {
    DeviceRunner.Seen seen =
        new DeviceRunner(bench, device, false)
            .run(spec(device, scene, planned(fault)), () -> Pace.lockstep(MS), () -> false)
            .orElseThrow();
    return new Compared(seen.acts(), bench.stand().inside(), seen);
  }

  /** As a plan states it. */
  private static List<PlannedFault> planned(@Nullable DeviceFault fault) {
    return Arrays.stream(FaultKind.values())
        .filter(kind -> kind.ofDevice().filter(f -> f == fault).isPresent())
        .map(kind -> new Injection(kind, 0, Long.MAX_VALUE, kind.strength().usual()))
        .map(injection -> new PlannedFault(injection, -1, null, "", 0))
        .toList();
  }

  private static TrialSpec spec(ClampedDevice device, Scene scene, List<PlannedFault> faults) {
    return new TrialSpec(
        0,
        "all",
        Expectation.STOP,
        Stage.LENGTH,
        device.standoffMicrons(),
        500,
        0,
        0,
        120_000 * MS,
        scene,
        faults);
  }
}
