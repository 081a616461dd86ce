package org.stopwell.rig.adversary;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.sense.BuiltInSensing;
import org.stopwell.core.sense.Measurement;
import org.stopwell.core.sense.Sensing;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.SensingNeeds;

/** The adversary can fail: what is broken on purpose is found, and shrunk to what it takes. */
class SpoiledControllerTest {
  private static final long SEED = 1;
  private static final int FASTEST = 2_000;
  private static final int STARTS = 60;
  private static final int CLIMBS = 10;

  private static final Setup HONEST = Setup.of(Policy.RATIO, Stage.LENGTH);

  @Test
  void aControllerThatRearmsTooEarlyIsFound() {
    Found found = find(spoiled("stage.rearm_mm", 0.1), List.of());
    assertEquals(new RestartCheck(HONEST).name(), found.invariant());
    assertEquals(List.of(), found.scenario().troubles());
  }

  @Test
  void aControllerThatStopsTooDeepIsFound() {
    Found found = find(spoiled("stage.standoff_mm", 0.1), List.of());
    assertEquals(new RestCheck(HONEST, found.scenario()).name(), found.invariant());
    assertEquals(1, found.scenario().length());
  }

  @Test
  void aControllerThatBearsATorqueForTooLongIsFound() {
    Found found = find(spoiled("guard.torque_ms", 400), List.of(Kind.TORQUE));
    assertEquals(new TorqueCheck(HONEST).name(), found.invariant());
    assertEquals(1, found.scenario().length());
  }

  @Test
  void aControllerThatBearsASilentBenchForTooLongIsFound() {
    Found found = find(spoiled("guard.link_age_ms", 1_000), List.of(Kind.SILENT_LINK));
    assertEquals(new ForbiddenCheck(HONEST).name(), found.invariant());
    assertEquals(1, found.scenario().length());
  }

  @Test
  void aSensingPolicyThatSwaysWithoutACauseIsFound() {
    Policies policies =
        Policies.BUILT_IN.withSensing(
            "sways",
            SensingNeeds.RATIO,
            new ParameterTable(List.of()),
            (all, own) -> new Sways(BuiltInSensing.ratio(all)));
    Setup spoiled = Setup.of(Policy.RATIO, Stage.LENGTH, Map.of("sense.policy", "sways"), policies);
    Found found = find(new Search(spoiled, SpoiledControllerTest::asHonest), List.of());
    assertEquals(0, found.scenario().rest().size() + found.scenario().troubles().size());
  }

  @Test
  void aHandThatAnswersTooLateIsFound() {
    Search search =
        new Search(
            HONEST,
            Checks::of,
            (setup, scenario) -> new Run(setup, scenario, 500, Run.FREE, (in, nowNs) -> nowNs));
    Found found = find(search, List.of());
    assertEquals(new RestCheck(HONEST, found.scenario()).name(), found.invariant());
    assertEquals(1, found.scenario().length());
  }

  /** Judges by the settings as they should be. */
  private static List<Check> asHonest(Setup spoiled, Scenario scenario) {
    return Checks.of(HONEST, scenario);
  }

  private static Setup spoiled(String key, Object value) {
    return Setup.of(Policy.RATIO, Stage.LENGTH, Map.of(key, value), Policies.BUILT_IN);
  }

  private static Found find(Setup spoiled, List<Kind> kinds) {
    return find(new Search(spoiled, SpoiledControllerTest::asHonest), kinds);
  }

  /** The same seed finds the same, and says how to find it again. */
  private static Found find(Search search, List<Kind> kinds) {
    Found found = search.run(SEED, kinds, FASTEST, STARTS, CLIMBS).orElseThrow();
    assertEquals(found, search.run(SEED, kinds, FASTEST, STARTS, CLIMBS).orElseThrow());
    assertTrue(found.toString().contains("search of seed " + SEED), found.toString());
    return found;
  }

  /** A reading that goes up and down by 3 mm every 2 s, slower than a jump. */
  private static final class Sways implements Sensing {
    private static final double MICRONS = 1_500;
    private static final double NS = 2e9;

    private final Sensing sensing;

    Sways(Sensing sensing) {
      this.sensing = sensing;
    }

    @Override
    public void read(ControllerInput in, Measurement out) {
      sensing.read(in, out);
      double turns = in.sampleTimeNs / NS;
      out.remainingMicrons += MICRONS * (1 + StrictMath.sin(2 * Math.PI * turns));
      out.witness = 0;
      out.expectedWitness = 0;
    }
  }
}
