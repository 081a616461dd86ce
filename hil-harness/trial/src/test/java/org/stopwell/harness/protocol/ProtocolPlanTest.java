package org.stopwell.harness.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.CanalSection;

/** What a plan says about itself as a protocol, and how its mistakes are named. */
class ProtocolPlanTest {
  @Test
  void aRunFileHoldsTheWholeProtocol() throws Exception {
    Plan plan = shipped();
    assertEquals(plan.protocol(), Protocol.of(plan.protocol().rows()));
    assertEquals(Map.of(), Protocol.NONE.rows());
    assertEquals(Protocol.NONE, Protocol.of(Map.of()));
  }

  @Test
  void theShippedProtocolIsBalancedToTheLastTrial() throws Exception {
    Plan plan = shipped();
    Map<String, Integer> counts = new HashMap<>();
    for (int i = 0; i < plan.trials(); i++) {
      counts.merge(plan.trial(i).condition(), 1, Integer::sum);
    }
    assertEquals(13, counts.remove(SentinelRule.CONDITION));
    assertEquals(6, counts.size());
    assertTrue(counts.values().stream().allMatch(n -> n == 48), counts.toString());
  }

  @Test
  void trialsThatShareACanalDifferInAllElse() throws Exception {
    Plan plan =
        shipped(
            "order: latin-square -> order: latin-square, canal_trials: 3",
            "size:\n  true_share: 0.995\n  power: 0.9\n  lost: 0 -> ");
    Map<String, List<TrialSpec>> byCondition = new HashMap<>();
    for (int i = 0; i < plan.trials(); i++) {
      byCondition
          .computeIfAbsent(plan.trial(i).condition(), c -> new ArrayList<>())
          .add(plan.trial(i));
    }
    byCondition.remove(SentinelRule.CONDITION);
    byCondition
        .values()
        .forEach(
            specs -> {
              assertEquals(drawn(specs.get(0)), drawn(specs.get(1)));
              assertEquals(drawn(specs.get(0)), drawn(specs.get(2)));
              assertNotEquals(drawn(specs.get(0)), drawn(specs.get(3)));
              assertNotEquals(specs.get(0).scene().seed(), specs.get(1).scene().seed());
            });
    assertEquals(
        16,
        byCondition.values().iterator().next().stream()
            .map(ProtocolPlanTest::drawn)
            .collect(Collectors.toSet())
            .size());
  }

  @Test
  void theCodesOfABlindedFactorDoNotFollowFromPlanAndSeed() throws Exception {
    Plan plan = shipped();
    Blinding blinding = plan.protocol().blinding().orElseThrow();
    assertEquals("hand", blinding.factor());
    assertTrue(blinding.codes().isEmpty(), "a plan holds no code");
    assertEquals(List.of("steady", "pecking", "hesitating"), plan.blindedLevels());
    Set<String> nonces = new HashSet<>();
    Set<Map<String, String>> maps = new HashSet<>();
    for (int i = 0; i < 200; i++) {
      BlindKey key = BlindKey.draw("hand", plan.blindedLevels());
      nonces.add(key.nonce());
      maps.add(key.levels());
      assertEquals(List.of("A", "B", "C"), List.copyOf(key.levels().keySet()));
      assertEquals(64, key.nonce().length(), "256 bits");
      assertEquals(key, BlindKey.read(key.text()));
    }
    assertEquals(200, nonces.size());
    assertEquals(6, maps.size(), "every one of 3! orders comes up");
  }

  @Test
  void theCommitmentIsTheHashOfTheKeyAsItIsWritten() {
    BlindKey key =
        new BlindKey("0f".repeat(32), "hand", Map.of("A", "pecking", "B", "steady file"));
    assertEquals(
        "stopwell blinding key\nnonce "
            + "0f".repeat(32)
            + "\nfactor hand\nA pecking\nB steady file\n",
        key.text());
    // sha256sum of that text.
    assertEquals(
        "c6fa5412d6fc1412495e0586d97208c0d018513d7f286a0bcf3f0c1ddad1f29d", key.commitment());
    for (String wrong :
        List.of("", key.text() + "\n", key.text().replace("nonce 0f", "nonce xx"), "A pecking\n")) {
      assertThrows(IllegalArgumentException.class, () -> BlindKey.read(wrong));
    }
    Blinding hand = new Blinding("hand", 1).committedTo(key);
    assertEquals("low/A", hand.renamed("low/pecking", key.codes()));
    assertEquals("low/steady file", hand.renamed("low/B", key.levels()));
    assertEquals("sentinel", new Blinding("hand", 0).renamed("sentinel", Map.of("sentinel", "A")));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "trials: 48 -> trials: 47|order: a latin square of 6 conditions is balanced after 6 trials",
        "blind: hand -> blind: hands|blind: hands is not a factor",
        "claim: within -> claim: bias|stop.claim: claims.bias is not among the claims",
        "claim: within -> claim: over_travel|stop.claim: over_travel is not about the primary",
        "rule: group-sequential -> rule: peek|stop.rule: peek",
        "primary: stop_error -> primary: time|stop.claim: within is not about the primary endpoint time",
        "secondary: [over_travel -> secondary: [stop_error|endpoints.secondary: stop_error is the primary one already",
        "secondary: [over_travel -> secondary: [overtravel|endpoints.secondary: overtravel is none of",
        "every: 24 -> every: 0|sentinels.every: 0 trials",
        "late_step_ms: 5 -> late_step_ms: 21|exclude.late_step_ms: 21 ms",
        "true_share: 0.995 -> true_share: 0.96|claims.over_travel: 288 trials are planned for it",
        "true_share: 0.995 -> true_share: 0.97|claims.within: 288 trials are planned for it",
        "lost: 0 -> lost: 0.02|claims.over_travel: 288 trials are planned for it",
        "order: latin-square -> order: latin-square, canal_trials: 3|size.icc: must be above 0",
        "rule: group-sequential -> rule: sprt, power: 0.5|stop.power: 0.5",
      })
  void mistakesAreNamedWithTheirKey(String slip, String message) throws Exception {
    PlanException e = assertThrows(PlanException.class, () -> shipped(slip));
    assertTrue(
        e.mistakes().stream().anyMatch(m -> (m.key() + ": " + m.message()).startsWith(message)),
        e.mistakes().toString());
  }

  @Test
  void aRuleThatLooksAfterEveryTrialNeedsACanalForEach() throws Exception {
    PlanException e =
        assertThrows(
            PlanException.class,
            () ->
                shipped(
                    "order: latin-square -> order: latin-square, canal_trials: 3",
                    "rule: group-sequential -> rule: anytime"));
    assertTrue(
        e.mistakes().stream()
            .anyMatch(m -> m.message().startsWith("anytime assumes independent trials")),
        e.mistakes().toString());
  }

  @Test
  void aClaimOnEachConditionEndsNoCampaign() {
    PlanException e =
        assertThrows(
            PlanException.class, () -> shipped("share: 0.95 -> share: 0.95\n    each: condition"));
    assertTrue(
        e.mistakes().stream()
            .anyMatch(m -> m.message().startsWith("within is claimed for each condition")),
        e.mistakes().toString());
  }

  private static String drawn(TrialSpec spec) {
    var canal = spec.scene().section("canal");
    return canal.get(CanalSection.BODY) + " " + canal.get(CanalSection.FORAMEN_DIAMETER);
  }

  private static String indent(String text, String part) {
    int at = text.indexOf(part);
    return text.substring(text.lastIndexOf('\n', at) + 1, at);
  }

  /** The shipped protocol with slips of the pen. */
  private static Plan shipped(String... slips) throws Exception {
    Source source = Source.of(TestPlans.file("signed-claim"));
    String text = source.text();
    for (String slip : slips) {
      String[] parts = slip.split(" -> ", -1);
      assertTrue(text.contains(parts[0]), parts[0]);
      // A comma begins a line of its own.
      text = text.replace(parts[0], parts[1].replace(", ", "\n" + indent(text, parts[0])));
    }
    return Plan.read(
        new Source(source.name(), text),
        Source.of(
            TestPlans.file("signed-claim").resolveSibling("../settings/reference-canal.yaml")));
  }
}
