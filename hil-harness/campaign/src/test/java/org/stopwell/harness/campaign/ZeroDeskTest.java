package org.stopwell.harness.campaign;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.ToothZero;
import org.stopwell.harness.plan.ToothZeroNote;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.calibration.Attendant;

/** Two observers are asked for the true zero of each tooth whose plan does not state it. */
class ZeroDeskTest {
  private static final String PLAN =
      """
      plan: 1
      name: teeth
      settings: length.yaml
      stage: length
      trials: 3
      expect: survey
      scene:
        canal: {kind: tooth}
        fluid: {irrigant: saline_0.9, fill: flooded}
      teeth:
        - {name: T01, length_mm: 12.43, uncertainty_mm: 0.1, medium: alginate}
        - {name: T02, length_mm: 10, uncertainty_mm: 0.1, medium: gelatine}
        - name: T03
          length_mm: 10
          uncertainty_mm: 0.1
          medium: agar
          zero_readings_um: {o1: [95, 100, 105], o2: [105, 110, 115]}
      """;

  private final List<String> heard = new ArrayList<>();
  private final Deque<String> answers = new ArrayDeque<>();
  private final List<ToothZeroNote> kept = new ArrayList<>();

  private final Attendant attendant =
      new Attendant() {
        @Override
        public void tell(String text) {
          heard.add(text);
        }

        @Override
        public Optional<String> answer(Question question) {
          heard.add(question.text());
          return Optional.ofNullable(answers.poll());
        }
      };

  private boolean ask(Set<String> known) throws Exception {
    String settings = Source.of(TestPlans.root().resolve("docs/settings/length.yaml")).text();
    Plan plan = Plan.read(new Source("plan.yaml", PLAN), new Source("length.yaml", settings));
    return ZeroDesk.ask(plan, known, attendant, kept::add);
  }

  private void type(String words) {
    answers.addAll(List.of(words.split(" ")));
  }

  @Test
  void aZeroThatIsTooUncertainIsRefusedWithItsLimitAndReadAgain() throws Exception {
    type("o1 0 0 0 o1 o2 100 100 100 10"); // the second observer is another person
    type("o1 95 100 105.5 105 o2 105 110 115 10");
    type("-");
    assertTrue(ask(Set.of()));
    String all = String.join("\n", heard);
    assertTrue(
        all.contains(
            "Tooth T01: U95 of the zero is 98.0 µm, at most 50 µm is allowed: 0.0 µm between"
                + " readings, 70.7 µm between observers. All readings count anew."),
        all);
    assertTrue(all.contains("o1 is the first observer; another person reads now."), all);
    assertTrue(all.contains("A whole number of µm is needed."), all);
    assertTrue(all.contains("Tooth T01: zero at 105.0 µm, U95"), all);
    assertFalse(all.contains("T03"), "the plan states the zero of T03");
    assertEquals(
        List.of(
            new ToothZeroNote(
                "T01",
                Optional.of(
                    new ToothZero(
                        Map.of("o1", List.of(95, 100, 105), "o2", List.of(105, 110, 115)), 10))),
            new ToothZeroNote("T02", Optional.empty())),
        kept);
    for (ToothZeroNote note : kept) {
      assertEquals(Optional.of(note), ToothZeroNote.read(note.text()), note.text());
    }
    assertEquals("T01: observer_sd_um 10; o1 95 100 105; o2 105 110 115", kept.get(0).text());
    for (String wrong :
        List.of("", "T01", "T01: observer_sd_um 10", "T01: observer_sd_um x; o1 1 2 3; o2 1 2 3")) {
      assertEquals(Optional.empty(), ToothZeroNote.read(wrong), wrong);
    }
  }

  @Test
  void whatWasReadIsKeptAndNotAskedForAgain() throws Exception {
    type("o1 95 100 105 o2 105 110 115 10 o1 95 100");
    assertFalse(ask(Set.of()), "an answer is missing");
    assertEquals(List.of("T01"), kept.stream().map(ToothZeroNote::tooth).toList());
    heard.clear();
    type("o 1");
    type("o1 95 100 105 o2 105 110 115 10");
    answers.addFirst("no code!");
    assertTrue(ask(Set.of("T01")));
    assertFalse(String.join("\n", heard).contains("T01"), heard::toString);
    assertTrue(
        heard.contains("\"no code!\" is not a code: letters, digits and . _ + -, at most 40"));
    assertEquals(List.of("T01", "T02"), kept.stream().map(ToothZeroNote::tooth).toList());
  }
}
