package org.stopwell.rig.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.BenchException.RigFault;

/** What every stage must keep. */
public abstract class LinearStageContractTest {
  private static final int FAST = 9_000;

  /** A stage that was just plugged in, off its home switch. */
  protected abstract LinearStage stage() throws Exception;

  /** Where the carriage really is, from the home switch, µm. */
  protected abstract int carriageMicrons() throws Exception;

  /** Says nothing to the board until so much of its time has gone by. */
  protected abstract void silence(int ms) throws Exception;

  private static void assertFault(String word, BenchException e) {
    assertEquals(RigFault.STAGE, e.fault(), e.toString());
    assertTrue(String.valueOf(e.getMessage()).contains(word), e.getMessage());
  }

  @Test
  void nothing_is_reached_before_home() throws Exception {
    LinearStage stage = stage();
    int before = carriageMicrons();

    assertFault("NOT_HOMED", assertThrows(BenchException.class, () -> stage.moveTo(5000, FAST)));
    assertFalse(stage.status().homed());
    assertEquals(before, carriageMicrons());
  }

  @Test
  void it_stands_where_it_was_sent_from_either_side() throws Exception {
    LinearStage stage = stage();
    LinearStage.Status home = stage.home();
    assertTrue(home.homed() && !home.busy());
    assertEquals(0, home.positionMicrons());
    int zero = carriageMicrons();

    for (int place : new int[] {4_000, 1_000, 1_200}) {
      assertEquals(place, stage.moveTo(place, FAST).positionMicrons());
      // A step is 2.5 µm, and what a world says is rounded to 1 µm.
      assertEquals(place, carriageMicrons() - zero, 4, "play of the screw is taken up");
    }
  }

  @Test
  void what_cannot_be_is_refused_with_its_limits() throws Exception {
    LinearStage stage = stage();
    LinearStage.Status home = stage.home();
    int most = home.mostMicrons();

    BenchException e = assertThrows(BenchException.class, () -> stage.moveTo(most + 1, FAST));
    assertFault("OUTSIDE", e);
    assertTrue(String.valueOf(e.getMessage()).contains("to " + most + " µm"), e.getMessage());
    assertFault("OUTSIDE", assertThrows(BenchException.class, () -> stage.moveTo(0, FAST)));
    assertFault("OUTSIDE", assertThrows(BenchException.class, () -> stage.moveTo(5000, 0)));
    assertFault(
        "OUTSIDE",
        assertThrows(
            BenchException.class,
            () -> stage.moveTo(5000, (int) home.fastestMicronsPerSecond() + 1)));
    assertEquals(0, stage.status().positionMicrons());
  }

  @Test
  void it_is_busy_while_it_moves_and_rests_when_told() throws Exception {
    LinearStage stage = stage();
    stage.home();
    assertTrue(stage.setOut(30_000, FAST).busy());

    assertFault("BUSY", assertThrows(BenchException.class, () -> stage.setOut(1_000, FAST)));
    stage.stop();
    silence(400);
    LinearStage.Status rests = stage.status();
    assertFalse(rests.busy());
    assertTrue(rests.homed(), "a stop is no loss of place");
    assertTrue(rests.positionMicrons() < 30_000);
  }

  @Test
  void a_silent_host_finds_it_at_rest() throws Exception {
    LinearStage stage = stage();
    stage.home();
    stage.setOut(30_000, 2_000);
    silence(1_600);
    LinearStage.Status rests = stage.status();

    assertFalse(rests.busy());
    assertEquals("LEFT_ALONE", rests.why());
    assertTrue(rests.positionMicrons() <= 2_000 * 1.3, "went on to " + rests.positionMicrons());
  }
}
