package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.calibration.Calibrator;
import org.stopwell.rig.calibration.ForgottenNotebook;
import org.stopwell.rig.calibration.Notebook;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.serial.BoardsBench;

/**
 * The stage of two real binaries is calibrated: the bench moves it, and only the indicator is asked
 * for. The indicator sits at the carriage of the emulator's world, whose screw has play.
 */
class CalibrationOnBoardsTest {
  private static final int TIMES = 10;
  private static final int REPEATS = 5;

  private static TwoBoards boards;
  private static BoardsBench bench;
  private final List<String> asked = new ArrayList<>();

  @BeforeAll
  static void plug() throws Exception {
    boards = TwoBoards.patient(TIMES);
    bench = boards.bench();
    bench.open();
  }

  @AfterAll
  static void unplug() {
    bench.close();
    boards.close();
  }

  /** Reads an indicator that shows too much by a share, and may say that nothing is clear. */
  private final class Reader implements Attendant {
    private final double tooMuch;
    private final boolean clear;

    Reader(double tooMuch, boolean clear) {
      this.tooMuch = tooMuch;
      this.clear = clear;
    }

    @Override
    public void tell(String text) {}

    @Override
    public Optional<String> answer(Question question) {
      asked.add(question.text());
      if (question.wanted() == Wanted.DONE) {
        return Optional.of(clear ? "y" : "n");
      }
      try {
        double up = -boards.drive.carriageMicrons() * (1 + tooMuch);
        return Optional.of(String.format(Locale.ROOT, "%.1f", up));
      } catch (IOException | InterruptedException e) {
        throw new AssertionError(e);
      }
    }
  }

  /** The readings that are left when so many are in the notebook already. */
  private List<Long> readings(Quantity quantity, int taken, double tooMuch) throws Exception {
    Notebook notes = new ForgottenNotebook();
    for (int i = 0; i < taken; i++) {
      notes.take(quantity, 0);
    }
    Calibrator calibrator = new Calibrator(bench, new Reader(tooMuch, true), notes, 1);
    assertTrue(calibrator.readings(quantity).isPresent());
    List<Long> all = notes.taken(quantity);
    assertEquals(REPEATS, all.size());
    return all.subList(taken, REPEATS);
  }

  @Test
  void only_the_indicator_is_asked_for_and_a_scale_that_is_wrong_shows() throws Exception {
    // 5 mm of way by an indicator that shows 1 % too much: 50 µm, to the steps of both encoders.
    assertEquals(-50_000, readings(Quantity.STAGE_SCALE, 4, 0.01).get(0), 12_000);
    assertEquals(1 + 2, asked.size(), "once whether all is clear, then the indicator: " + asked);
  }

  @Test
  void what_is_left_of_the_play_of_the_screw_is_read_from_both_sides() throws Exception {
    // The world's screw has 60 µm of play; the board takes it up, coming from either side.
    assertEquals(0, readings(Quantity.STAGE_BACKLASH, 4, 0).get(0), 6_000);
  }

  @Test
  void each_run_to_the_home_switch_finds_the_same_zero() throws Exception {
    List<Long> two = readings(Quantity.ENCODER_ZERO, 3, 0);

    assertEquals(two.get(0), two.get(1), 25_000, two.toString());
  }

  @Test
  void nothing_moves_before_somebody_says_that_all_is_clear() throws Exception {
    int before = boards.drive.carriageMicrons();
    Calibrator calibrator = new Calibrator(bench, new Reader(0, false), new ForgottenNotebook(), 1);

    assertEquals(Optional.empty(), calibrator.readings(Quantity.STAGE_SCALE));
    assertEquals(before, boards.drive.carriageMicrons());
    assertTrue(asked.get(0).contains("hands away"), asked.toString());
  }

  /** The eight of the parts list, each by a meter that shows 2 pF more than calibration.h. */
  @Test
  void capacitors_are_typed_with_the_board_unplugged_and_the_bench_goes_on_after()
      throws Exception {
    List<String> typed = new ArrayList<>(List.of("8"));
    for (int picofarads : List.of(68, 150, 220, 470, 680, 1500, 2200, 4700)) {
      typed.addAll(List.of("" + picofarads, "" + (picofarads + 2)));
    }
    List<String> told = new ArrayList<>();
    Iterator<String> answers = typed.iterator();
    Attendant attendant =
        new Attendant() {
          @Override
          public void tell(String text) {
            told.add(text);
          }

          @Override
          public Optional<String> answer(Question question) {
            return Optional.of(question.wanted() == Wanted.DONE ? "y" : answers.next());
          }
        };
    Calibrator calibrator = new Calibrator(bench, attendant, new ForgottenNotebook(), 1);

    assertEquals(
        Optional.of(Collections.nCopies(8, -2_000L)), calibrator.readings(Quantity.CAPACITORS));
    assertTrue(told.get(told.size() - 1).contains(".bank of canal-board/calibration.h"), "" + told);
    bench.drivenStage().orElseThrow().status();
  }
}
