package org.stopwell.rig.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.board.EmulatedBench;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.proof.Finding.Outcome;
import org.stopwell.rig.virtual.TwinStand;
import org.stopwell.rig.virtual.VirtualBench;

/** A device board is proven over the wire, and each defect fails its own check. Simulated. */
class DeviceProofTest {
  /** A board answers each 20 ms with forty samples. */
  private static final long PERIOD_NS = 20_000_000;

  @Test
  void aSoundBoardPassesEveryCheck() throws Exception {
    try (VirtualBench bench = new VirtualBench(1_000_000)) {
      bench.open();
      List<Finding> direct = DeviceProof.of(bench, Operator.NOBODY);
      assertEquals(9, direct.size());
      assertTrue(direct.stream().allMatch(f -> f.outcome() == Outcome.PASS), direct.toString());
    }
    try (EmulatedBench bench = EmulatedBench.lockstep(PERIOD_NS)) {
      bench.open();
      List<Finding> wired = DeviceProof.of(bench, Operator.NOBODY);
      assertTrue(wired.stream().allMatch(f -> f.outcome() == Outcome.PASS), wired.toString());
    }
  }

  @ParameterizedTest
  @CsvSource({
    "LEAK,           leak,          a relay leaks",
    "MARK_SLIPS,     rotation,      the magnet slips",
    "CLOCK_SKEW,     time base,     The clock of the board disagrees",
    "SAMPLES_LOST,   time base,     are missing",
    "NETWORK_GLITCH, network steps, switches for too long",
    "CABLE_OFF,      chain,         A resistor or its relay is off",
    "STRAY,          stray,         shorten and fix the wires",
    "STICKY_SCALE,   scale,         it sticks",
    "DEAF_WITNESS,   witness,       The second witness is deaf",
  })
  void aDefectFailsItsOwnCheckAndSaysWhatToDo(String defect, String check, String message)
      throws Exception {
    try (EmulatedBench bench = EmulatedBench.lockstep(PERIOD_NS)) {
      bench.open();
      for (TwinStand.Defect one : TwinStand.Defect.values()) {
        if (one.name().equals(defect)) {
          bench.stand().damage(one);
        }
      }
      for (DeviceFault one : DeviceFault.values()) {
        if (one.name().equals(defect)) {
          bench.stand().play(Optional.of(one));
        }
      }
      List<Finding> failed =
          DeviceProof.of(bench, Operator.NOBODY).stream()
              .filter(f -> f.outcome() == Outcome.FAIL)
              .toList();
      assertEquals(List.of(check), failed.stream().map(Finding::check).toList(), failed.toString());
      assertTrue(failed.get(0).text().contains(message), failed.toString());
    }
  }

  /** Without a motor of known speed only the chain and the time base can be checked. */
  @Test
  void withoutAMotorTheSensorsAreNotChecked() throws Exception {
    try (VirtualBench bench = new VirtualBench(1_000_000)) {
      bench.open();
      Bench motorless =
          new ForwardingBench(bench) {
            @Override
            public List<Lack> lacks() {
              return List.of(new Lack(Ability.MOTOR, "the device board"));
            }
          };
      List<Finding> found = DeviceProof.of(motorless, Operator.NOBODY);
      assertEquals(
          List.of("rotation", "stop", "scale", "witness", "network steps"),
          found.stream().filter(f -> f.outcome() == Outcome.NOT_DONE).map(Finding::check).toList());
      assertEquals(4, found.stream().filter(f -> f.outcome() == Outcome.PASS).count());
    }
  }
}
