package org.stopwell.harness.stops;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.StopPlan;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.DeviceTrial;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

class StopTableTest {
  private static final String HEAD =
      "tooth,device,unit,operator,setting,feed_mm_per_s,resting_mm,deepest_mm,turned_until_mm,"
          + "valid,why";

  private static final String PLAN =
      """
      import: 1
      name: stops
      tolerance_mm: 0.5
      standoff_mm: {s05: 0.5, s10: 1}
      """;

  @TempDir Path dir;

  @Test
  void aRowIsReadInMicrons() throws Exception {
    StopRow row = read(HEAD, "T1,A,u1,o1,s05,0.5,0.52,0.4805,0.6,yes,").rows().get(0);
    assertEquals(
        new StopRow(
            2,
            "A",
            "s05",
            new DeviceTrial("T1", "u1", "o1", 500, 600, 0, 0),
            StopEnd.STOPPED,
            520,
            480,
            java.util.Optional.empty()),
        row);
    assertEquals("A/s05", row.condition());
  }

  /** How well a constriction is known: by the row, else by the plan, and never above the limit. */
  @Test
  void theUncertaintyOfAConstrictionIsThatOfTheRowElseOfThePlan() throws Exception {
    String head = HEAD + ",constriction_mm,constriction_u95_mm";
    List<StopRow> rows =
        read(
                head,
                "T1,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,,0.61,0.045",
                "T2,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,,0.61,",
                "T3,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,,,")
            .rows();
    assertEquals(
        List.of(45, 30, 0), rows.stream().map(r -> r.tried().constrictionBoundMicrons()).toList());
    assertEquals(
        List.of(
            "2:44: constriction_u95_mm: 0.101 mm, must be 0.001 to 0.1 mm",
            "3:40: constriction_u95_mm: must be empty where constriction_mm is empty"),
        mistakes(
                head,
                "T1,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,,0.61,0.101",
                "T2,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,,,0.05")
            .stream()
            .map(m -> m.substring(m.indexOf(".csv:") + 5))
            .toList());
  }

  @Test
  void semicolonsWithDecimalCommasByteOrderMarkQuotesAndCommentsAreRead() throws Exception {
    StopTable.Read read =
        read(
            "\uFEFF# a comment, with a comma",
            HEAD.replace(',', ';'),
            "\"T1\";A;u1;o1;s05;0,5;0,52;0,48;0.6;yes;\r");
    assertEquals(520, read.rows().get(0).restingMicrons());
    assertEquals(600, read.rows().get(0).tried().turnedUntilMicrons());
    assertTrue(read.separated().startsWith("semicolons"), read.separated());
  }

  @Test
  void everyMistakeIsNamedWithLineAndColumn() {
    List<String> mistakes =
        mistakes(
            HEAD + ",repeat",
            "T1,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,,1",
            "T 2,A,u1,o1,s07,0.5,40,0.48,0.6,yes,,1",
            "T3,A,u1,o1,s05,fast,0.52,0.60,NaN,yes,,1",
            "T4,A,u1,o1,s05,0.5,0.52,0.48,0.6,no,,1",
            "T5,A,u1,o1,s05,0.5,0.52,0.48,0.6,maybe,tired,x",
            "T1,A,u1,o1,s05,0.5,0.51,0.48,0.6,yes,,1",
            "T6,A,u1,o1,s05,0.5,0.52,0.55,0.6,yes,,1",
            "T7,A,u1,o1,s05,0.5,0.52,0.55,0.6,yes,refused,1",
            "T8,A,u1");
    String all = String.join("\n", mistakes);
    for (String expected :
        List.of(
            "t.csv:3:1: tooth: \"T 2\" is no code",
            "t.csv:3:13: setting: \"s07\" has no distance; add it to standoff_mm of plan.yaml",
            "t.csv:3:21: resting_mm: 40 mm, must be -6 to 30 mm",
            "t.csv:4:16: feed_mm_per_s: \"fast\" is not a number from 0.01 to 10 mm/s",
            "t.csv:4:31: turned_until_mm: \"NaN\" is not a number from -6 to 30 mm",
            "t.csv:5:37: why: is empty in a row with valid no; write not_done, tooth_moved",
            "t.csv:6:34: valid: \"maybe\" is none of yes, no",
            "t.csv:6:40: why: \"tired\" is no cause",
            "t.csv:6:46: repeat: \"x\" is not a whole number",
            "t.csv:7: the same tooth, device, unit, operator, setting, feed and repeat as line 2",
            "t.csv:8:25: deepest_mm: 0.55 mm is less deep than resting_mm, 0.52 mm",
            "t.csv:9:20: resting_mm: must be empty where why is refused",
            "t.csv:10: 3 cells, the header has 12")) {
      assertTrue(all.contains(expected), expected + "\nin\n" + all);
    }
  }

  @Test
  void aHeaderWithAColumnOfAPersonIsRefused() {
    String all = String.join("\n", mistakes(HEAD.replace("operator", "patient_name"), "x"));
    assertTrue(all.contains("t.csv:1:19: \"patient_name\" is no column"), all);
    assertTrue(all.contains("t.csv:1: the header lacks operator"), all);
  }

  @Test
  void otherEncodingsAreNamed() throws Exception {
    for (Charset charset : List.of(StandardCharsets.UTF_16, StandardCharsets.ISO_8859_1)) {
      Path file = dir.resolve("t.csv");
      Files.writeString(file, HEAD + "\nT\u00fc,A\n", charset);
      TraceException e = assertThrows(TraceException.class, () -> StopTable.read(file, plan(PLAN)));
      assertTrue(
          String.valueOf(e.getMessage()).endsWith("; save it as CSV in UTF-8"), e.toString());
    }
    assertTrue(mistakes("").get(0).contains("has no header"));
    assertTrue(mistakes(HEAD).get(0).contains("has no row"));
    assertTrue(
        mistakes(HEAD, "T1,A,u1,o1,s05,0,5,0,52,0,48,0,6,yes,")
            .get(0)
            .contains("a decimal comma needs semicolons"));
  }

  @Test
  void theColumnOrderGivesTheOrderOfTheTrials() throws Exception {
    StopTable.Read read =
        read(
            HEAD + ",order",
            "T1,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,,2",
            "T2,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,,1");
    assertEquals(List.of("T2", "T1"), read.rows().stream().map(r -> r.tried().tooth()).toList());
    assertTrue(
        mistakes(
                HEAD + ",order",
                "T1,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,,1",
                "T2,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,,1")
            .get(0)
            .endsWith("order: 1 stands on line 2 as well"));
  }

  @Test
  void aPlannedTrialThatWasNotDoneMustBeARow() throws Exception {
    StopPlan two = plan(PLAN + "trials: 2\n");
    Path file = write(HEAD, "T1,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,");
    TraceException e = assertThrows(TraceException.class, () -> StopTable.read(file, two));
    assertTrue(
        e.mistakes().get(0).contains("1 rows of device and setting A/s05, the plan has trials: 2"),
        e.toString());
    write(HEAD, "T1,A,u1,o1,s05,0.5,0.52,0.48,0.6,yes,", "T2,A,u1,o1,s05,,,,,no,not_done");
    assertEquals(2, StopTable.read(file, two).rows().size());
  }

  @Test
  void eachEndIsJudgedByTheRulesOfATrial() throws Exception {
    StopPlan plan = plan(PLAN);
    Condition condition = plan.conditions(new TreeMap<>(java.util.Map.of("A/s05", 9))).get(0);
    List<StopRow> rows =
        read(
                HEAD,
                "T1,A,u1,o1,s05,0.5,1.00,0.48,0.6,yes,",
                "T2,A,u1,o1,s05,0.5,1.001,0.48,0.6,yes,",
                "T3,A,u1,o1,s05,0.5,0.1,0.0,0.1,yes,",
                "T4,A,u1,o1,s05,0.5,0.1,-0.001,0.1,yes,",
                "T5,A,u1,o1,s05,0.5,,3,,yes,no_start",
                "T6,A,u1,o1,s05,0.5,,3,,yes,refused",
                "T7,A,u1,o1,s05,0.5,,0.2,,yes,no_stop",
                "T8,A,u1,o1,s05,0.5,,,,no,lead_off")
            .rows();
    List<String> codes =
        rows.stream()
            .map(r -> StopJudge.of(0, r, condition))
            .map(t -> t.verdict() + " " + t.code() + (t.driven() ? " driven" : ""))
            .toList();
    assertEquals(
        List.of(
            "PASS AT_STANDOFF driven",
            "FAIL EARLY driven",
            "PASS AT_STANDOFF driven",
            "FAIL OVER_TRAVEL driven",
            "FAIL NEVER_STARTED",
            "FAIL REFUSED",
            "FAIL NO_STOP driven",
            "RIG_FAULT LEAD_OFF"),
        codes);
    TrialResult refused = StopJudge.of(5, rows.get(5), condition);
    assertTrue(refused.refused());
    assertEquals(Verdict.FAIL, refused.verdict());
    assertEquals(500, StopJudge.of(0, rows.get(0), condition).stopErrorMicrons());
  }

  @Test
  void aPlanOfStopsNamesEveryMistake() {
    PlanException e =
        assertThrows(
            PlanException.class,
            () ->
                plan(
                    """
                    import: 1
                    name: stops
                    tolerance_mm: 9
                    standoff_mm: {"s 05": 0.5, s10: -1}
                    blind: operator
                    claims: {refused: {share: 0.9}}
                    devices: A
                    settings: mine.yaml
                    """));
    String all = String.valueOf(e.getMessage());
    for (String expected :
        List.of(
            "plan.yaml:3: tolerance_mm: 9 mm",
            "plan.yaml:4: standoff_mm.s 05: \"s 05\" is no code",
            "plan.yaml:4: standoff_mm.s10: ",
            "plan.yaml:5: blind: operator, must be device",
            "plan.yaml:7: devices: A is not a list of codes",
            "plan.yaml:8: settings: unknown key")) {
      assertTrue(all.contains(expected), expected + "\nin\n" + all);
    }
    PlanException claim =
        assertThrows(PlanException.class, () -> plan(PLAN + "claims: {refused: {share: 0.9}}\n"));
    assertTrue(String.valueOf(claim.getMessage()).contains("claims.refused: has no trials here"));
  }

  private StopTable.Read read(String... lines) throws Exception {
    return StopTable.read(write(lines), plan(PLAN));
  }

  private List<String> mistakes(String... lines) {
    TraceException e =
        assertThrows(TraceException.class, () -> StopTable.read(write(lines), plan(PLAN)));
    return e.mistakes().stream().map(m -> m.replace(dir + "/", "")).toList();
  }

  private Path write(String... lines) throws Exception {
    Path file = dir.resolve("t.csv");
    Files.writeString(file, String.join("\n", lines) + "\n");
    return file;
  }

  private static StopPlan plan(String text) throws PlanException {
    return StopPlan.read(new Source("plan.yaml", text));
  }
}
