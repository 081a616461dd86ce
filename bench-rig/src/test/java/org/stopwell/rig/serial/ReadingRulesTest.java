package org.stopwell.rig.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Collections;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.board.TestBoards;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;
import org.stopwell.rig.wire.Refusal;

/** What the protocol page says of readings, errors and safe stops, against a board made from it. */
class ReadingRulesTest {
  private static final long MS = 1_000_000;

  private final PageBoard board = new PageBoard();
  private final SerialBench bench = new SerialBench(board, "serial", null);
  private final ControllerInput in = new ControllerInput();

  @Test
  void theFirstReadingMayBeAbsent() throws Exception {
    board.reading =
        packet -> {
          PageBoard.set(packet, "position_kind", 0);
          PageBoard.set(packet, "sample_sequence", 0);
          PageBoard.list(packet, "frequency_hz");
          PageBoard.list(packet, "z_real_milli_ohms");
          PageBoard.list(packet, "z_imag_milli_ohms");
        };
    exchange();
    assertEquals(PositionKind.ABSENT, in.positionKind);
  }

  @Test
  void aReadingThatFitsItsSceneIsTaken() throws Exception {
    exchange();
    assertEquals(2, in.frequencyCount);
    assertEquals(8_000_000, in.zRealMilliOhms[0]);
  }

  @Test
  void aReadingThatContradictsThePageOrItsSceneIsARigFault() {
    assertBad(p -> PageBoard.list(p, "frequency_hz", 700), "frequency_hz with 1 entries, wanted 2");
    assertBad(p -> PageBoard.list(p, "z_real_milli_ohms", 1, 2, 3), "z_real_milli_ohms with 3");
    assertBad(p -> PageBoard.list(p, "z_imag_milli_ohms"), "z_imag_milli_ohms with 0 entries");
    assertBad(p -> PageBoard.list(p, "frequency_hz", 700, 8_000), "8000, the scene has 7000");
    assertBad(p -> PageBoard.set(p, "sample_sequence", 0), "sample_sequence 0, wanted 1 or more");
  }

  @ParameterizedTest
  @EnumSource(Refusal.class)
  void everyErrorHasItsCauseCode(Refusal refusal) throws Exception {
    mount();
    board.refusal = refusal;
    BenchException e = assertThrows(BenchException.class, () -> exchangeMounted());
    boolean session = refusal == Refusal.NO_SESSION || refusal == Refusal.OTHER_SESSION;
    assertEquals(session ? RigFault.SESSION_LOST : RigFault.REFUSED, e.fault());
    assertTrue(e.toString().contains(refusal.name()), e.toString());
  }

  @Test
  void aSafeStopMayGoOutTwice() throws Exception {
    exchange();
    bench.safeStop();
    bench.safeStop();
    exchangeMounted();
    assertEquals(2, Collections.frequency(board.heard, Message.SAFE_STOP));
  }

  private void assertBad(Consumer<Packet> change, String said) {
    board.reading = change;
    BenchException e = assertThrows(BenchException.class, this::exchange);
    assertEquals(RigFault.BAD_READING, e.fault());
    assertTrue(e.toString().contains(said), e.toString());
  }

  private void mount() throws BenchException {
    bench.open();
    bench.mount(TestBoards.scene());
  }

  private void exchange() throws BenchException {
    mount();
    exchangeMounted();
  }

  private void exchangeMounted() throws BenchException {
    bench.exchange(MS, TestBoards.command(Drive.OFF), in);
  }
}
