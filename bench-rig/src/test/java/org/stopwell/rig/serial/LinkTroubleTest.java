package org.stopwell.rig.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.Arrays;
import java.util.SplittableRandom;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.board.TestBoards;
import org.stopwell.rig.board.TestBoards.Reference;

/** What a bad cable does, between a real serial bench and a real board. */
class LinkTroubleTest {
  private static final long MS = 1_000_000;
  private static final long SEED = 20260101;

  /** The host asks again after a quarter of it, and gives up after many times that. */
  private static final long SILENCE_MS = 200;

  private static final int PATIENCE = 10;
  private static final Duration BOUND = Duration.ofSeconds(200);

  private final SplittableRandom random = new SplittableRandom(SEED);
  private final ControllerOutput command = TestBoards.command(Drive.FORWARD);
  private final ControllerInput reading = new ControllerInput();
  private EmulatedBoard board;
  private MangledLink link;
  private SerialBench bench;

  @BeforeEach
  void mount() throws Exception {
    System.out.println("seed " + SEED);
    board = EmulatedBoard.start(TestBoards.identity(true, SILENCE_MS), 0);
    link = new MangledLink(new SerialLink(board.portName(), SerialLink.BAUD));
    bench = new SerialBench(link, "serial", null, PATIENCE);
    bench.open();
    bench.mount(TestBoards.scene());
  }

  @AfterEach
  void close() {
    link.mangleReceived(bytes -> bytes); // so that the safe stop is answered at once
    bench.close();
    board.close();
  }

  @Test
  void aLostRequestIsSentAgain() throws Exception {
    link.mangleSent(every(10, bytes -> new byte[0]));
    exchange(40);
    assertTrue(bench.counts().resent() >= 4, bench.counts().toString());
    assertObeyedOnce(40);
  }

  @Test
  void aLostAnswerIsAskedForAgainAndTheCommandObeyedOnce() throws Exception {
    link.mangleReceived(wholeFrames(every(10, bytes -> new byte[0])));
    exchange(40);
    assertTrue(bench.counts().resent() >= 3, bench.counts().toString());
    assertObeyedOnce(40);
  }

  @Test
  void doubledFramesAreObeyedAndReadOnce() throws Exception {
    link.mangleSent(LinkTroubleTest::twice);
    link.mangleReceived(wholeFrames(LinkTroubleTest::twice));
    exchange(100);
    assertObeyedOnce(100);
    assertTrue(bench.counts().ignored() > 0);
  }

  @Test
  void framesInPiecesArePutTogether() throws Exception {
    link.readInPiecesOf(() -> 1 + random.nextInt(5));
    exchange(50);
    assertObeyedOnce(50);
  }

  @Test
  void garbageBetweenFramesCostsNothingButASecondTry() throws Exception {
    byte[] garbage = new byte[40];
    link.mangleSent(every(10, bytes -> join(random(garbage), bytes)));
    exchange(40);
    LinkCounts counts = bench.counts();
    // What only a busy machine answers late is asked again too; then one of two answers is ignored.
    assertTrue(counts.resent() - counts.ignored() <= 20, counts.toString());
    assertObeyedOnce(40);
  }

  @Test
  void moreDamageThanAllowedIsARigFaultOfItsOwn() {
    link.mangleReceived(wholeFrames(every(2, LinkTroubleTest::damaged)));
    BenchException e = assertThrows(BenchException.class, () -> exchange(1000));
    assertEquals(RigFault.BAD_FRAMES, e.fault());
    assertTrue(e.toString().contains("21 damaged frames, limit 20"), e.toString());
  }

  @Test
  void aLineOfNothingButDamageEndsInBoundedTime() {
    link.mangleReceived(wholeFrames(LinkTroubleTest::damaged));
    BenchException e =
        assertTimeoutPreemptively(
            BOUND, () -> assertThrows(BenchException.class, () -> exchange(1)));
    assertEquals(RigFault.BAD_FRAMES, e.fault());
  }

  @Test
  void aMuteLineEndsInBoundedTime() {
    link.mangleReceived(bytes -> new byte[0]);
    BenchException e =
        assertTimeoutPreemptively(
            BOUND, () -> assertThrows(BenchException.class, () -> exchange(1)));
    assertEquals(RigFault.NO_ANSWER, e.fault());
    assertTrue(
        e.toString().contains(board.portName() + ": no answer to EXCHANGE within 2000 ms"),
        e.toString());
  }

  @Test
  void aBabblingBoardNeitherHangsNorFillsTheMemory() {
    link.mangleReceived(bytes -> random(new byte[200]));
    BenchException e =
        assertTimeoutPreemptively(
            BOUND, () -> assertThrows(BenchException.class, () -> exchange(1)));
    assertEquals(RigFault.BAD_FRAMES, e.fault());
  }

  @Test
  void aLateCommandOfAnOlderSessionNeverTurnsTheMotor() throws Exception {
    byte[][] late = new byte[1][];
    link.mangleSent(
        bytes -> {
          late[0] = bytes;
          return bytes;
        });
    exchange(1);
    link.mangleSent(bytes -> bytes);
    bench.close();
    bench.open();
    bench.mount(TestBoards.scene());
    command.drive = Drive.OFF;
    link.mangleSent(every(1, bytes -> join(late[0], bytes)));
    exchange(20);
    assertTruth(20, Drive.OFF);
    assertTrue(bench.counts().ignored() >= 20, bench.counts().toString());
  }

  private void exchange(int steps) throws BenchException {
    for (long t = 1; t <= steps; t++) {
      bench.exchange(t * MS, command, reading);
      assertEquals(t * MS, bench.truth().timeNs);
    }
  }

  private void assertObeyedOnce(int steps) {
    assertTruth(steps, Drive.FORWARD);
  }

  private void assertTruth(int steps, Drive drive) {
    Reference reference = new Reference();
    for (long ms = 1; ms <= steps; ms++) {
      reference.until(ms, drive);
    }
    assertEquals(reference.truth(), TestBoards.text(bench.truth()));
  }

  private static UnaryOperator<byte[]> every(int n, UnaryOperator<byte[]> change) {
    AtomicInteger count = new AtomicInteger();
    return bytes -> {
      boolean now = bytes.length > 0 && count.incrementAndGet() % n == 0;
      return now ? change.apply(bytes) : bytes;
    };
  }

  /** A busy machine hands out frames in pieces: each is held until it is whole, then changed. */
  private static UnaryOperator<byte[]> wholeFrames(UnaryOperator<byte[]> change) {
    byte[][] held = {new byte[0]};
    return bytes -> {
      held[0] = join(held[0], bytes);
      byte[] out = new byte[0];
      for (int end = zero(held[0]); end >= 0; end = zero(held[0])) {
        out = join(out, change.apply(Arrays.copyOf(held[0], end + 1)));
        held[0] = Arrays.copyOfRange(held[0], end + 1, held[0].length);
      }
      return out;
    };
  }

  private static int zero(byte[] bytes) {
    for (int i = 0; i < bytes.length; i++) {
      if (bytes[i] == 0) {
        return i;
      }
    }
    return -1;
  }

  private static byte[] twice(byte[] bytes) {
    return join(bytes, bytes);
  }

  private static byte[] damaged(byte[] bytes) {
    byte[] changed = bytes.clone();
    for (int i = 0; i < changed.length; i++) {
      if (i % 8 == 3 && changed[i] != 0) {
        changed[i] = (byte) (changed[i] == 0x55 ? 0x56 : 0x55);
      }
    }
    return changed;
  }

  private byte[] random(byte[] bytes) {
    random.nextBytes(bytes);
    return bytes;
  }

  private static byte[] join(byte[] a, byte[] b) {
    byte[] all = Arrays.copyOf(a, a.length + b.length);
    System.arraycopy(b, 0, all, a.length, b.length);
    return all;
  }
}
