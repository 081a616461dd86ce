package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.network.Target;
import org.stopwell.rig.virtual.ToothChain;

/**
 * One whole trial of a device on device board and drive board as real binaries: the boards feed,
 * play the canal and watch; the device goes by the relays of the chain and by nothing else.
 * Simulated.
 */
class DeviceTrialTest {
  private static final int LENGTH_MICRONS = 4_000;

  /** Where the device stops the file, µm short of the foramen on its own curve. */
  private static final int TARGET_MICRONS = 500;

  @Test
  void a_device_that_goes_by_the_chain_stops_at_its_target_and_the_boards_see_it()
      throws Exception {
    Firmware.make("device-board", "drive-board", "emulators");
    Scene scene =
        Scene.of(
            Map.of(
                "canal", Map.of("kind", "chain", "length_mm", "4"),
                "fluid", Map.of("level_mm", "4"),
                "hand",
                    Map.of(
                        "motion", "steady",
                        "feed_mm_per_s", "2",
                        "tremor_um", "0",
                        "reaction_ms", "0",
                        "start_above_mm", "0",
                        "passive_mm", "0")),
            1);
    Target target = target(scene);
    try (FeedingBoards boards = new FeedingBoards()) {
      DeviceWatch watch = boards.bench().deviceWatch().orElseThrow();
      boards.mount(scene);
      assertTrue(watch.circuit().floats() && watch.circuit().closed(), "before the trial");
      boards.tell("spin 300000");
      boards.tell("hear 1");
      List<Watched> seen = new ArrayList<>();
      boolean stopped = false;
      for (int i = 0; i < 200 && !stopped; i++) {
        seen.addAll(boards.pass(20));
        stopped =
            !boards.codes().isEmpty()
                && DeviceBoardTest.made(boards.codes(), target.hertz()).magnitude()
                    < target.impedance().magnitude();
      }
      assertTrue(stopped, "the device never saw its target");
      boards.tell("spin 0");
      boards.tell("hear 0");
      List<Watched> after = boards.pass(400);
      seen.addAll(after);
      Watched trip = lastTurning(seen);
      Watched rest = after.get(after.size() - 1);
      String what = trip + "\n" + rest;
      // The device looks each 20 ms and acts up to 0.1 s later: 0.2 mm at 2 mm/s. The resistors of
      // the emulator are 0.8 % off what it takes them for: 0.05 mm.
      int microns = LENGTH_MICRONS - trip.shankMicrons();
      assertTrue(microns > TARGET_MICRONS - 300 && microns < TARGET_MICRONS + 50, what);
      assertTrue(rest.shankMicrons() - trip.shankMicrons() < 150, "the feed stops too: " + what);
      int stood = after.get(after.size() - 100).shankMicrons();
      assertEquals(stood, rest.shankMicrons(), 5, "the stage stands: " + what);
      assertTrue(watch.circuit().floats() && watch.circuit().closed(), "after the trial");
    }
  }

  /** The last sample at which the file has turned by 1.8° in four samples, 150 rpm. */
  private static Watched lastTurning(List<Watched> seen) {
    Watched last = seen.get(0);
    for (int i = 4; i < seen.size(); i++) {
      Watched now = seen.get(i);
      if (now.angleMilliDegrees() - seen.get(i - 4).angleMilliDegrees() > 1_800) {
        last = now;
      }
    }
    return last;
  }

  /** What the chain shows at the target, at the highest frequency. */
  private static Target target(Scene scene) throws Exception {
    List<Target> there =
        ToothChain.targets(scene).entrySet().stream()
            .filter(e -> Math.abs(e.getKey() - TARGET_MICRONS * 1e-6) < 1e-9)
            .findFirst()
            .orElseThrow()
            .getValue();
    return there.get(there.size() - 1);
  }
}
