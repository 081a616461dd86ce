package org.stopwell.rig.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.IntSupplier;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.virtual.VirtualBench;

/** Readings of a stage of which everything is known, against an indicator that shows the truth. */
class StageReadingsTest {
  private static final long MS = 1_000_000;

  private final List<String> told = new ArrayList<>();

  /** The encoder counts 1 µm too much in each mm: 5 µm over the 5 mm between the two places. */
  @Test
  void theScaleIsTheTravelByTheEncoderMinusThatByTheIndicator() throws Exception {
    Stage stage = new Stage(200, 38_000, 10_000);
    stage.scale = 1.001;
    assertEquals(Collections.nCopies(5, 5_000L), readings(stage, Quantity.STAGE_SCALE));
    assertEquals(List.of(16_600, 21_600), stage.places.subList(0, 2));
    assertEquals(10, stage.places.size());
    assertEquals(1, stage.homes, "home is looked for once");
    assertEquals(4_000, stage.fastest, "slow enough to watch");
    assertEquals(
        List.of("Set the indicator to count up away from the foramen, with 5.0 mm of range."),
        told);
  }

  /** Coming from the far side the carriage stands 7 µm off. */
  @Test
  void theBacklashIsTheDifferenceBetweenTheTwoWaysToOnePlace() throws Exception {
    Stage stage = new Stage(200, 38_000, 3_000);
    stage.play = 7;
    assertEquals(Collections.nCopies(5, -7_000L), readings(stage, Quantity.STAGE_BACKLASH));
    assertEquals(List.of(18_100, 19_100, 20_100, 19_100), stage.places.subList(0, 4));
    assertEquals(3_000, stage.fastest, "no faster than it can");
  }

  /** Each new run to the home switch moves the encoder's zero by 3 µm. */
  @Test
  void theZeroIsWhatTheBenchShowsMoreThanAfterTheFirstRun() throws Exception {
    Stage stage = new Stage(200, 38_000, 10_000);
    stage.shiftAtHome = 3;
    assertEquals(
        List.of(0L, 3_000L, 6_000L, 9_000L, 12_000L), readings(stage, Quantity.ENCODER_ZERO));
    assertEquals(1_200, stage.places.get(0));
    assertEquals(6, stage.homes);
  }

  @Test
  void ofAShortStageTheWayIsWhatItHasBetweenItsMargins() throws Exception {
    Stage stage = new Stage(0, 2_000, 10_000);
    stage.scale = 1.01;
    assertEquals(Collections.nCopies(5, 10_000L), readings(stage, Quantity.STAGE_SCALE));
    assertEquals(List.of(500, 1_500), stage.places.subList(0, 2));
    stage.places.clear();
    readings(stage, Quantity.STAGE_BACKLASH);
    assertEquals(List.of(500, 1_000, 1_500, 1_000), stage.places.subList(0, 4));
  }

  @Test
  void aStageWithoutRoomIsRefusedWithItsRange() {
    Stage stage = new Stage(100, 2_099, 10_000);
    BenchException e =
        assertThrows(BenchException.class, () -> readings(stage, Quantity.STAGE_SCALE));
    assertEquals(
        "stage: range 100 to 2099 µm; a calibration needs at least 2000 µm of travel",
        e.getMessage());
  }

  @Test
  void nothingMovesUntilSomebodySaysThatAllIsClear() throws Exception {
    Stage stage = new Stage(200, 38_000, 10_000);
    try (OnStage bench = new OnStage(stage)) {
      assertEquals(
          Optional.empty(),
          new Calibrator(bench, Attendant.NOBODY, new ForgottenNotebook(), 1)
              .readings(Quantity.STAGE_SCALE));
    }
    assertEquals(0, stage.homes + stage.places.size());
  }

  /** A stage that a person moves: block, places and indicator are typed. */
  @ParameterizedTest
  @CsvSource({
    "STAGE_SCALE,    '5 y',  -5000000",
    "STAGE_BACKLASH, '12 7', 5000",
    "ENCODER_ZERO,   '4',    0",
  })
  void aStageWithoutAMotorIsReadByHand(Quantity quantity, String typed, long thousandths)
      throws Exception {
    List<String> answers = new ArrayList<>();
    for (int i = 0; i < 5; i++) {
      answers.addAll(List.of(typed.split(" ", -1)));
    }
    try (OnStage bench = new OnStage(null)) {
      assertEquals(
          Optional.of(Collections.nCopies(5, thousandths)),
          new Calibrator(bench, typing(answers), new ForgottenNotebook(), 1).readings(quantity));
    }
    assertTrue(answers.isEmpty(), "not asked for: " + answers);
  }

  /** The indicator moves by 10 µm from reading to reading, and the bench shows nothing of it. */
  @Test
  void theZeroOfAStageWithoutAMotorIsThePlaceMinusTheIndicator() throws Exception {
    List<String> answers = new ArrayList<>(List.of("0", "10", "20", "30", "-5"));
    try (OnStage bench = new OnStage(null)) {
      assertEquals(
          Optional.of(List.of(0L, -10_000L, -20_000L, -30_000L, 5_000L)),
          new Calibrator(bench, typing(answers), new ForgottenNotebook(), 1)
              .readings(Quantity.ENCODER_ZERO));
    }
  }

  @Test
  void readingsThatExistAreNotTakenAgainAndItSaysSo() throws Exception {
    Notebook notes = new ForgottenNotebook();
    notes.take(Quantity.STAGE_BACKLASH, 1);
    notes.take(Quantity.STAGE_BACKLASH, 2);
    Stage stage = new Stage(200, 38_000, 10_000);
    try (OnStage bench = new OnStage(stage)) {
      assertEquals(
          Optional.of(List.of(1L, 2L, 0L, 0L, 0L)),
          new Calibrator(bench, watching(stage), notes, 1).readings(Quantity.STAGE_BACKLASH));
      assertEquals("2 of 5 readings exist; continuing with the next.", told.get(0));
      assertEquals(2, told.size());
      assertEquals(1, bench.safeStops, "left safe");
      new Calibrator(bench, watching(stage), notes, 1).readings(Quantity.STAGE_BACKLASH);
      assertEquals(2, told.size(), "a step that is complete has nothing to say");
    }
  }

  /** The ladder is measured with the board unplugged: its stage forgets where home is. */
  @Test
  void afterTheBoardWasUnpluggedHomeIsLookedForAgain() throws Exception {
    Stage stage = new Stage(200, 38_000, 10_000);
    try (OnStage bench = new OnStage(stage)) {
      Notebook notes = new ForgottenNotebook();
      Calibrator calibrator = new Calibrator(bench, watching(stage), notes, 1);
      calibrator.readings(Quantity.STAGE_SCALE);
      assertEquals(0, bench.closed);
      assertEquals(1, stage.homes);
      calibrator.readings(Quantity.LADDER);
      assertEquals(1, bench.closed, "let go while it is measured");
      calibrator.readings(Quantity.STAGE_BACKLASH);
      assertEquals(2, stage.homes);
    }
  }

  /** Time and coast need a stage at home as well: a bench mounts nothing before that. */
  @ParameterizedTest
  @CsvSource({"LINK_LATENCY", "MOTOR_COAST"})
  void whatTheBenchMeasuresByItselfBeginsAtHomeToo(Quantity quantity) throws Exception {
    Stage stage = new Stage(200, 38_000, 10_000);
    readings(stage, quantity);
    assertEquals(1, stage.homes);
  }

  private List<Long> readings(Stage stage, Quantity quantity) throws BenchException {
    try (OnStage bench = new OnStage(stage)) {
      return new Calibrator(bench, watching(stage), new ForgottenNotebook(), 1)
          .readings(quantity)
          .orElseThrow();
    }
  }

  /** Says y, and reads the indicator. */
  private Attendant watching(Stage stage) {
    return attendant(
        question ->
            question.wanted() == Attendant.Wanted.NUMBER
                ? String.format(Locale.ROOT, "%.3f", stage.carriage)
                : "y");
  }

  private Attendant typing(List<String> answers) {
    return attendant(question -> answers.remove(0));
  }

  private Attendant attendant(Function<Attendant.Question, String> answers) {
    return new Attendant() {
      @Override
      public void tell(String text) {
        told.add(text);
      }

      @Override
      public Optional<String> answer(Question question) {
        return Optional.of(answers.apply(question));
      }
    };
  }

  /** A stage with an encoder of its own, whose carriage stands where the indicator shows. */
  private static final class Stage implements LinearStage {
    private final int least;
    private final int most;
    private final long limit;
    private final List<Integer> places = new ArrayList<>();
    private double scale = 1;
    private double play;
    private double shiftAtHome;
    private double carriage;
    private int ordered;
    private int homes;
    private int fastest;

    Stage(int least, int most, long limit) {
      this.least = least;
      this.most = most;
      this.limit = limit;
    }

    /** What the bench takes for the place of the tip. */
    int shown() {
      return (int) Math.round(ordered * scale + homes * shiftAtHome);
    }

    @Override
    public Status home() {
      homes++;
      ordered = 0;
      carriage = 0;
      return status();
    }

    @Override
    public Status moveTo(int position, int speed) {
      places.add(position);
      carriage = position + (position < ordered ? play : 0);
      ordered = position;
      fastest = Math.max(fastest, speed);
      return status();
    }

    @Override
    public Status setOut(int position, int speed) {
      return moveTo(position, speed);
    }

    @Override
    public Status stop() {
      return status();
    }

    @Override
    public Status status() {
      return new Status(false, homes > 0, ordered, least, most, limit, "");
    }
  }

  /** A bench that claims to be hardware and moves such a stage, or none. */
  private static final class OnStage extends ForwardingBench {
    private final Optional<LinearStage> driven;
    private final Truth truth = new Truth();
    private final IntSupplier place;
    private int safeStops;
    private int closed;

    OnStage(@Nullable Stage stage) {
      super(opened());
      driven = Optional.ofNullable(stage);
      place = stage == null ? () -> 500 : stage::shown;
    }

    private static VirtualBench opened() {
      VirtualBench bench = new VirtualBench(MS);
      bench.open();
      return bench;
    }

    @Override
    public BenchDescription describe() {
      BenchDescription d = bench.describe();
      return new BenchDescription(
          d.kind(), d.serialNumber(), d.firmware(), false, d.lockstep(), d.periodNs());
    }

    @Override
    public Optional<LinearStage> drivenStage() {
      return driven;
    }

    @Override
    public void mount(Scene scene) throws BenchException {
      super.mount(scene);
      truth.remainingMicrons = place.getAsInt();
    }

    @Override
    public Truth truth() {
      return truth;
    }

    @Override
    public void close() {
      closed++;
      super.close();
    }

    @Override
    public void safeStop() {
      safeStops++;
      super.safeStop();
    }
  }
}
