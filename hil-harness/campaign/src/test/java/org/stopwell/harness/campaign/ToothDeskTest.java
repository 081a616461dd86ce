package org.stopwell.harness.campaign;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.ToothSection;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.virtual.VirtualBench;

/** The person at the bench is asked for one thing after the other, and nothing moves before. */
class ToothDeskTest {
  private static final String PLAN =
      """
      plan: 1
      name: teeth
      settings: length.yaml
      stage: length
      trials: 2
      expect: survey
      scene:
        canal: {kind: tooth}
        fluid: {irrigant: saline_0.9, fill: flooded}
      teeth:
        - {name: T01, length_mm: 12.43, uncertainty_mm: 0.1, medium: alginate, temperature_c: 23}
        - {name: T02, length_mm: 10, uncertainty_mm: 0.1, medium: gelatine}
      """;

  private final List<String> heard = new ArrayList<>();
  private final Deque<String> answers = new ArrayDeque<>();
  private final List<String> moves = new ArrayList<>();
  private final List<Scene> mounted = new ArrayList<>();

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

  private static Plan plan() throws Exception {
    return plan(PLAN);
  }

  private static Plan plan(String text) throws Exception {
    String settings = Source.of(TestPlans.root().resolve("docs/settings/length.yaml")).text();
    return Plan.read(new Source("plan.yaml", text), new Source("length.yaml", settings));
  }

  private Bench bench(Optional<LinearStage> stage) throws BenchException {
    VirtualBench bench = new VirtualBench(1_000_000);
    bench.open();
    return new ForwardingBench(bench) {
      @Override
      public void mount(Scene scene) throws BenchException {
        mounted.add(scene);
        super.mount(scene);
      }

      @Override
      public Optional<LinearStage> drivenStage() {
        return stage;
      }
    };
  }

  @Test
  void everyToothIsMountedZeroedAndFilled() throws Exception {
    Plan plan = plan();
    ToothDesk desk = new ToothDesk(plan, attendant);
    for (int i = 0; i < 20; i++) {
      answers.add("y");
    }
    try (Bench bench = desk.around(bench(Optional.empty()))) {
      bench.mount(plan.trial(0).scene());
      assertEquals(
          List.of(
              "Withdraw the file with the stage until its tip is above the tooth.",
              "Mount tooth T01 in alginate at 23.0 °C.",
              "Put the lip clip into the medium, and the file clip on the file.",
              "Move the stage until the tip touches the reference point.",
              "The stage counts from here: 12.430 mm short of the foramen.",
              "Withdraw the file with the stage until its tip is above the tooth.",
              "Tooth T01: fill the canal with saline 0.9 at 23 °C to 1.950 mm above the orifice, into"
                  + " the chamber."),
          heard);
      assertTrue(ToothSection.zeroes(mounted.get(0)));
      assertFalse(ToothSection.zeroes(mounted.get(1)));
      heard.clear();
      bench.mount(plan.trial(0).scene());
      assertEquals(2, heard.size(), "the same tooth is only filled again");
      bench.mount(plan.trial(1).scene());
      assertTrue(heard.contains("Mount tooth T02 in gelatine at 25.0 °C."), heard::toString);
    }
    assertFalse(desk.isLeft());
  }

  @Test
  void anotherMediumAsksForAnotherMounting() throws Exception {
    Plan plan =
        plan(
            PLAN.replaceAll(", medium: [^}]*", "")
                + """
                mount: {medium: alginate, temperature_c: 35, conductivity_s_per_m: 0.5, age_h: 2}
                factors:
                  medium:
                    alginate:
                    agar:
                      mount: {medium: agar}
                """);
    ToothDesk desk = new ToothDesk(plan, attendant);
    try (Bench bench = desk.around(bench(Optional.empty()))) {
      for (int i = 0; i < 2; i++) {
        heard.clear();
        answers.addAll(List.of("y y 36.1 34.2 0.005 0.52 169 2,5 y y y y".split(" ")));
        bench.mount(plan.trial(i).scene());
        assertTrue(answers.isEmpty(), answers::toString);
        assertTrue(heard.contains("36.1 is outside 34.0 to 36.0 °C"), heard::toString);
        assertTrue(heard.contains("0.005 is outside 0.01 to 10.0 S/m"), heard::toString);
        assertTrue(heard.contains("169 is outside 0.0 to 168.0 h"), heard::toString);
        assertEquals(
            List.of("T01: " + plan.trial(i).condition() + " at 34.200 °C, 0.520 S/m, 2.500 h old"),
            desk.mounted());
        assertEquals(List.of(), desk.mounted(), "each is kept once");
        assertTrue(
            heard.contains(
                "Mount tooth T01 in "
                    + plan.trial(i).condition()
                    + " at 35.0 °C, 0.500 S/m, 2.0 h old."),
            heard::toString);
      }
    }
  }

  @Test
  void withoutAnAnswerNothingIsMountedAndTheCampaignEnds() throws Exception {
    Plan plan = plan();
    ToothDesk desk = new ToothDesk(plan, attendant);
    answers.addAll(List.of("y", "n"));
    try (Bench bench = desk.around(bench(Optional.empty()))) {
      BenchException refused =
          assertThrows(BenchException.class, () -> bench.mount(plan.trial(0).scene()));
      assertTrue(
          String.valueOf(refused.getMessage()).contains("not confirmed: Mount tooth T01"),
          refused::toString);
    }
    assertTrue(desk.isLeft());
    assertTrue(mounted.isEmpty());
  }

  @Test
  void aDrivenStageIsJoggedToTheReferencePoint() throws Exception {
    Plan plan = plan();
    ToothDesk desk = new ToothDesk(plan, attendant);
    answers.addAll(List.of("y", "y", "y", "4,5", "9", "3", "-0.2", "0", "y"));
    try (Bench bench = desk.around(bench(Optional.of(new ShortStage())))) {
      bench.mount(plan.trial(0).scene());
    }
    assertEquals(List.of("home", "4500 at 1000", "4300 at 1000", "home"), moves);
    assertTrue(heard.contains("9 is outside -5.0 to 5.0 mm"), heard::toString);
    assertTrue(
        heard.contains("7.500 mm is outside of the travel, 0.000 to 6.000 mm from home."),
        heard::toString);
    assertTrue(answers.isEmpty());
  }

  private final class ShortStage implements LinearStage {
    private int place;

    private Status at(int microns, String move) {
      place = microns;
      moves.add(move);
      return status();
    }

    @Override
    public Status home() {
      return at(0, "home");
    }

    @Override
    public Status moveTo(int positionMicrons, int micronsPerSecond) {
      return at(positionMicrons, positionMicrons + " at " + micronsPerSecond);
    }

    @Override
    public Status setOut(int positionMicrons, int micronsPerSecond) {
      return moveTo(positionMicrons, micronsPerSecond);
    }

    @Override
    public Status stop() {
      return status();
    }

    @Override
    public Status status() {
      return new Status(false, true, place, 0, 6_000, 10_000, "RESTING");
    }
  }
}
