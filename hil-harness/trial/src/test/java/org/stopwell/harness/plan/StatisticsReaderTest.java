package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.stats.StatisticsChoice;

class StatisticsReaderTest {
  private static final String FACTORS = "factors: {canal: {a: , b: }, day: {x: , y: }}\n";

  @Test
  void aPlanThatSaysNothingGetsTheDefault() throws PlanException {
    StatisticsChoice analysis = read(FACTORS);
    assertTrue(analysis.coverage() && analysis.precision() && analysis.agreement());
    assertEquals(List.of(), analysis.groups());
    assertEquals(List.of("canal", "day"), analysis.factors());
  }

  @Test
  void everyKeyIsRead() throws PlanException {
    assertEquals(
        new StatisticsChoice(
            false,
            true,
            false,
            true,
            100,
            0.9,
            0.99,
            List.of("canal", "day"),
            List.of("day", "canal")),
        read(
            FACTORS
                + "analysis: {coverage: false, agreement: false, sequential: true, margin_mm: 0.1,"
                + " share: 0.9, confidence: 0.99, groups: [day, canal]}"));
  }

  @Test
  void everyMistakeIsNamedWithItsLine() {
    Mistakes mistakes = new Mistakes("plan.yaml");
    Yaml.Mapping top =
        YamlReader.read(
            new Source(
                "plan.yaml",
                "analysis:\n  coverge: true\n  share: 2\n  groups:\n    - cannal\n    - day\n    - day\n"),
            mistakes);
    StatisticsReader.read(
        (Yaml.Mapping) java.util.Objects.requireNonNull(top.entries().get("analysis")).value(),
        List.of("canal", "day"),
        mistakes);
    assertEquals(
        List.of(2, 3, 5, 7),
        mistakes.all().stream().map(Mistake::line).collect(Collectors.toList()),
        mistakes.all().toString());
    assertTrue(mistakes.all().get(0).message().contains("did you mean coverage?"));
    assertTrue(mistakes.all().get(2).message().contains("did you mean canal?"));
  }

  @Test
  void aConditionKnowsItsLevels() throws PlanException {
    StatisticsChoice analysis = read(FACTORS + "analysis: {groups: [canal]}");
    assertEquals("a", analysis.level("a/y", "canal"));
    assertEquals("y", analysis.fixed("a/y"));
  }

  @Test
  void aWrongKeyIsRefusedAndNeverTheDefault() {
    PlanException e =
        assertThrows(
            PlanException.class,
            () -> read(FACTORS + "analysis: {groups: [canal], astrology: true}"));
    assertEquals("analysis.astrology", e.mistakes().get(0).key());
  }

  private static StatisticsChoice read(String plan) throws PlanException {
    return StatisticsReader.read(new Source("plan", plan));
  }
}
