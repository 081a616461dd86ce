package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.campaign.Campaign;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.virtual.VirtualBench;

/** A factor whose levels are settings of the controller. */
class SettingsGroupTest {
  private static final String HEAD =
      """
      plan: 1
      name: groups
      settings: settings.yaml
      stage: length
      seed: 5
      trials: 4
      time_limit_s: 30
      scene:
        canal: {kind: resistors, length_mm: 8, body_ohm: 6500}
        hand: {feed_mm_per_s: 1, passive_mm: 6}
      """;

  private static final String ARMS =
      """
      blind: told
      sentinels: {every: 4, expected_mm: 0.5, sd_mm: 0.3}
      factors:
        told:
          as-written:
          plain:
            settings:
              policies: {stopping: plain}
          further-out:
            settings:
              stages:
                length: {standoff_mm: 1, speed_rpm: 250}
      """;

  @Test
  void aLevelPutsValuesOverTheSettingsAndSaysWhichTheyAre() throws Exception {
    Plan plan = read(HEAD + ARMS);
    List<SettingsGroup> groups = SettingsGroup.of(plan);
    assertEquals(
        List.of(
            "as-written: as in the settings",
            "plain: policies.stopping predict → plain",
            "further-out: stages.length.speed_rpm 300 rpm → 250 rpm;"
                + " stages.length.standoff_mm 0.5 mm → 1 mm"),
        groups.stream().map(SettingsGroup::sentence).toList());
    assertEquals(
        3,
        groups.stream().map(SettingsGroup::fingerprint).distinct().count(),
        "each has its own fingerprint");
    assertEquals(
        List.of(500, 500, 1000),
        plan.conditions().stream().map(Condition::standoffMicrons).toList());
    for (int i = 0; i < plan.trials(); i++) {
      TrialSpec trial = plan.trial(i);
      boolean far = trial.condition().equals("further-out");
      assertEquals(far ? 1000 : 500, trial.standoffMicrons());
      assertEquals(
          far ? 250_000 : 300_000,
          plan.controller(trial).stage(Stage.LENGTH).get(StageParameters.SPEED));
      if (trial.condition().equals(SentinelRule.CONDITION)) {
        assertEquals(
            plan.settings().controller().fingerprint(), plan.controller(trial).fingerprint());
      }
    }
  }

  @Test
  void anArmDoesToTheBitWhatItsOwnSettingsFileWouldDo() throws Exception {
    List<TrialResult> mixed = run(read(HEAD + ARMS), 2);
    String told = TestPlans.quick(1).settings().source().text() + "\npolicies: {stopping: plain}\n";
    Plan alone = read(HEAD + ARMS.replaceAll("settings:\n.*\\{stopping: plain\\}\n", "\n"), told);
    List<TrialResult> plain = run(alone, 1);
    int same = 0;
    for (int i = 0; i < mixed.size(); i++) {
      if (mixed.get(i).condition().equals("plain")) {
        assertEquals(plain.get(i), mixed.get(i));
        same++;
      }
      if (mixed.get(i).condition().equals("as-written")) {
        assertNotEquals(plain.get(i).stateHash(), mixed.get(i).stateHash());
      }
    }
    assertEquals(4, same);
  }

  @Test
  void aStageMayBeALevelToo() throws Exception {
    String shape =
        """
        factors:
          work:
            measuring:
            shaping:
              stage: shape
              settings:
                stages:
                  shape: {standoff_mm: 0.7}
        """;
    Plan plan = read(HEAD + shape);
    assertEquals(
        List.of(500, 700), plan.conditions().stream().map(Condition::standoffMicrons).toList());
    assertTrue(
        SettingsGroup.of(plan).get(1).sentence().startsWith("shaping: stage length → shape; "),
        SettingsGroup.of(plan).get(1).sentence());
    assertEquals(
        List.of("line 14: stage of condition shaping: shape is not described in settings.yaml"),
        mistakes(HEAD + shape.substring(0, shape.indexOf("      settings:"))));
  }

  @Test
  void crossedArmsAreToldBoth() throws Exception {
    Plan plan =
        read(
            HEAD
                + """
                factors:
                  speed:
                    slow: {settings: {stages: {length: {speed_rpm: 200}}}}
                    quick:
                  policy:
                    plain: {settings: {policies: {stopping: plain}}}
                    predict:
                """);
    assertEquals(
        List.of(
            "slow/plain: stages.length.speed_rpm 300 rpm → 200 rpm; policies.stopping predict →"
                + " plain",
            "slow/predict: stages.length.speed_rpm 300 rpm → 200 rpm",
            "quick/plain: policies.stopping predict → plain",
            "quick/predict: as in the settings"),
        SettingsGroup.of(plan).stream().map(SettingsGroup::sentence).toList());
  }

  @Test
  void everyMistakeHasItsLineItsValueAndItsLimit() {
    assertEquals(
        List.of(
            "line 14: factors.told.a.settings.stages.length.speed_rpm: 9000 rpm is outside 10 to"
                + " 5000 rpm",
            "line 16: factors.told.b.settings.polices: unknown key; did you mean policies?",
            // a text names a settings file
            "line 18: factors.told.c.settings: fast: no such file"),
        mistakes(
            HEAD
                + """
                factors:
                  told:
                    a:
                      settings: {stages: {length: {speed_rpm: 9000}}}
                    b:
                      settings: {polices: {stopping: plain}}
                    c:
                      settings: fast
                """));
  }

  @Test
  void whatContradictsTheSettingsFileIsRefused() {
    List<String> found =
        mistakes(
            HEAD
                + """
                factors:
                  told:
                    a:
                      settings: {guard: {speed_limit_rpm: 100}}
                """);
    assertFalse(found.isEmpty());
    assertTrue(
        found.stream().allMatch(m -> m.contains("speed_rpm") || m.contains("speed_limit_rpm")),
        found.toString());
    assertTrue(found.stream().allMatch(m -> m.matches("line 1[1-4]: .*")), found.toString());
  }

  private static List<String> mistakes(String plan) {
    return assertThrows(PlanException.class, () -> read(plan)).mistakes().stream()
        .map(m -> "line " + m.line() + ": " + m.key() + ": " + m.message())
        .collect(Collectors.toList());
  }

  private static Plan read(String plan) throws PlanException {
    return read(plan, TestPlans.quick(1).settings().source().text());
  }

  private static Plan read(String plan, String settings) throws PlanException {
    return Plan.read(new Source("plan.yaml", plan), new Source("settings.yaml", settings));
  }

  private static List<TrialResult> run(Plan plan, int jobs) throws Exception {
    List<RunFile.Entry> kept = new ArrayList<>();
    assertEquals(
        Campaign.End.COMPLETE,
        new Campaign(plan, List.of(), jobs, () -> false, kept::addAll)
            .run(open(), SettingsGroupTest::open));
    return kept.stream().map(RunFile.Entry::result).toList();
  }

  private static Bench open() throws BenchException {
    Bench bench = new VirtualBench(1_000_000);
    bench.open();
    return bench;
  }
}
