package org.stopwell.rig.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.board.TestBoards;
import org.stopwell.rig.board.TestBoards.Reference;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.Message;

/** The serial bench over the real serial library and a pseudo-terminal. */
class SerialBenchTest {
  private static final long MS = 1_000_000;

  /** An end to every wait, on a busy machine too. */
  private static final Duration BOUND = Duration.ofSeconds(200);

  private static final int PATIENCE = 100;

  private final ControllerOutput command = TestBoards.command(Drive.FORWARD);
  private final ControllerInput reading = new ControllerInput();
  private EmulatedBoard board;
  private SerialBench bench;

  @BeforeEach
  void startBoard() throws Exception {
    board = EmulatedBoard.start(TestBoards.identity(true, 2000), 0);
    bench = benchOn(new SerialLink(board.portName(), SerialLink.BAUD));
  }

  @AfterEach
  void stopBoard() {
    bench.close();
    board.close();
  }

  @Test
  void commandsGoOutAndReadingsComeBack() throws Exception {
    openAndMount();
    Reference reference = new Reference();
    for (long ms = 1; ms <= 1000; ms++) {
      bench.exchange(ms * MS, command, reading);
      assertEquals(reference.until(ms, Drive.FORWARD).truth(), TestBoards.text(bench.truth()));
    }
    assertEquals(PositionKind.IMPEDANCE, reading.positionKind);
    assertEquals(0, bench.counts().received().bad());
  }

  @Test
  void theDescriptionNamesTheBoard() throws Exception {
    bench.open();
    assertEquals("T-0001", bench.describe().serialNumber());
    assertEquals("stopwell plant 7 c0ffee", bench.describe().firmware());
    assertTrue(bench.describe().simulated());
    assertTrue(bench.describe().lockstep());
    assertEquals(1_000_000, bench.describe().periodNs());
  }

  @Test
  void aSafeStopTakesThePower() throws Exception {
    openAndMount();
    bench.exchange(MS, command, reading);
    bench.safeStop();
    bench.exchange(2 * MS, command, reading);
    assertEquals(
        new Reference().until(1, Drive.FORWARD).until(2, Drive.OFF).truth(),
        TestBoards.text(bench.truth()));
  }

  @Test
  void aSafeStopIsAllowedAtAnyTimeAndTwice() throws Exception {
    bench.safeStop();
    bench.open();
    bench.safeStop();
    bench.safeStop();
    bench.mount(TestBoards.scene());
    bench.exchange(0, command, reading);
    bench.close();
    bench.safeStop();
    bench.close();
  }

  @Test
  void theCablePulledInMidTrialIsToldWithinBoundedTime() throws Exception {
    openAndMount();
    Thread puller =
        new Thread(
            () -> {
              MachineClock.waitNs(50 * MS);
              board.close();
            });
    puller.start();
    BenchException e =
        Assertions.assertTimeoutPreemptively(
            BOUND,
            () ->
                assertThrows(
                    BenchException.class,
                    () -> {
                      for (long t = 1; ; t++) {
                        bench.exchange(t * MS, command, reading);
                      }
                    }));
    puller.join();
    assertEquals(RigFault.PORT_GONE, e.fault());
    assertTrue(e.toString().contains(board.portName()), e.toString());
    Assertions.assertTimeoutPreemptively(BOUND, bench::safeStop);
    Assertions.assertTimeoutPreemptively(BOUND, bench::close);
  }

  @Test
  void afterTheCableIsBackTheBenchOpensAgain() throws Exception {
    openAndMount();
    bench.close();
    openAndMount();
    bench.exchange(MS, command, reading);
    assertEquals(new Reference().until(1, Drive.FORWARD).truth(), TestBoards.text(bench.truth()));
  }

  @Test
  void aPortThatIsNotThereIsMissing() {
    BenchException e = fails(benchOn(new SerialLink("/dev/no-such-port", SerialLink.BAUD)));
    assertEquals(RigFault.PORT_MISSING, e.fault());
    assertEquals("port /dev/no-such-port: no such port", e.getMessage());
  }

  @Test
  void aPortThatAnotherBenchHoldsIsBusy() throws Exception {
    bench.open();
    BenchException e = fails(benchOn(new SerialLink(board.portName(), SerialLink.BAUD)));
    assertEquals(RigFault.PORT_BUSY, e.fault());
  }

  @Test
  void anotherBoardThanTheWantedOneIsRefused() {
    BenchException e =
        fails(
            new SerialBench(new SerialLink(board.portName(), SerialLink.BAUD), "serial", "T-0002"));
    assertEquals(RigFault.WRONG_IDENTITY, e.fault());
    assertTrue(e.toString().endsWith("serial number T-0001, wanted T-0002"), e.toString());
  }

  @ParameterizedTest
  @CsvSource({
    "period_ns,    4000000000, 100000 to 50000000 ns",
    "period_ns,         99999, 100000 to 50000000 ns",
    "watchdog_ns, 10000000000, 1000000 to 100000000 ns",
    "watchdog_ns,          -1, 1000000 to 100000000 ns",
    "silence_ns,   8000000000, 10000000 to 2000000000 ns",
    "silence_ns,     99999999, 100000000 to 2000000000 ns",
  })
  void aBoardWhoseTimesAreOutsideOfTheirBoundsIsRefused(String field, long ns, String bounds)
      throws Exception {
    BenchException e = refused(TestBoards.with(TestBoards.identity(true, 2000), field, ns));
    assertTrue(e.toString().contains(field + " " + ns + " ns, wanted " + bounds), e.toString());
  }

  @Test
  void aBoardWithoutASerialNumberIsRefused() throws Exception {
    BenchException e = refused(TestBoards.named(TestBoards.identity(true, 2000), ""));
    assertTrue(e.toString().contains("serial_number is empty"), e.toString());
  }

  private BenchException refused(BoardIdentity identity) throws Exception {
    try (EmulatedBoard other = EmulatedBoard.start(identity, 0)) {
      BenchException e = fails(benchOn(new SerialLink(other.portName(), SerialLink.BAUD)));
      assertEquals(RigFault.WRONG_IDENTITY, e.fault());
      return e;
    }
  }

  @Test
  void ofTwoBoardsEachMustTellWhatItIsThereFor() throws Exception {
    BoardIdentity blind = TestBoards.with(TestBoards.identity(true, 2000), "has_truth", 0);
    BoardIdentity canal = TestBoards.with(blind, "has_motor", 0);
    BoardIdentity drive = TestBoards.with(blind, "has_position", 0);
    try (EmulatedBoard one = EmulatedBoard.start(canal, 0);
        EmulatedBoard two = EmulatedBoard.start(drive, 0);
        BoardsBench both =
            new BoardsBench(
                benchOn(new SerialLink(one.portName(), SerialLink.BAUD)),
                benchOn(new SerialLink(two.portName(), SerialLink.BAUD)))) {
      both.open();
      assertEquals(
          List.of(
              new Lack(Ability.TRUTH, "port " + one.portName() + ": test board T-0001"),
              new Lack(Ability.TRUTH, "port " + two.portName() + ": test board T-0001")),
          both.lacks());
    }
  }

  @Test
  void aBoardOfVersion5IsSentNoMessageThatItDoesNotKnow() throws Exception {
    PageBoard older = new PageBoard();
    older.identity = TestBoards.with(TestBoards.identity(true, 2000), "protocol", 5);
    try (SerialBench five = new SerialBench(older, "serial", null)) {
      five.open();
      assertTrue(five.deviceWatch().isEmpty());
      five.mount(TestBoards.scene());
      five.exchange(MS, command, reading);
      assertEquals(
          List.of(
              new Lack(
                  Ability.DEVICE,
                  "port memory: test board T-0001, wire protocol 5 (at least 6 needed),")),
          five.lacks());
    }
    assertTrue(older.heard.contains(Message.EXCHANGE));
    for (Message later : List.of(Message.VERIFY, Message.WATCH, Message.MOUNT_PLACE)) {
      assertFalse(older.heard.contains(later), later.toString());
    }
  }

  @Test
  void aGapLongerThanTheWatchdogIsARigFault() throws Exception {
    openAndMount();
    bench.exchange(MS, command, reading);
    BenchException e =
        assertThrows(BenchException.class, () -> bench.exchange(500 * MS, command, reading));
    assertEquals(RigFault.WATCHDOG, e.fault());
    assertEquals(
        new Reference()
            .until(1, Drive.FORWARD)
            .until(101, Drive.FORWARD)
            .until(500, Drive.OFF)
            .truth(),
        TestBoards.text(bench.truth()));
  }

  @Test
  void aBoardWhoseHostDiesTakesThePowerByItself() throws Exception {
    try (EmulatedBoard live = EmulatedBoard.start(TestBoards.identity(false, 100), 0)) {
      SerialBench host =
          new SerialBench(
              new SerialLink(live.portName(), SerialLink.BAUD), "serial", null, PATIENCE);
      host.open();
      while (!turned(host)) {
        // The machine was busy and this host silent for too long already: once more.
      }
      MachineClock.waitNs(1000 * MS);
      BenchException e =
          assertThrows(BenchException.class, () -> host.exchange(1050 * MS, command, reading));
      assertEquals(RigFault.WATCHDOG, e.fault());
      assertEquals(0, host.truth().speedMilliRpm);
      host.close();
    }
  }

  /** Whether the motor turned; not when the machine itself kept the host from the board. */
  private boolean turned(SerialBench host) throws BenchException {
    host.mount(TestBoards.scene());
    try {
      host.exchange(0, command, reading);
      MachineClock.waitNs(50 * MS);
      host.exchange(50 * MS, command, reading);
    } catch (BenchException e) {
      assertEquals(RigFault.WATCHDOG, e.fault(), e.toString());
      return false;
    }
    assertTrue(host.truth().speedMilliRpm > 0);
    return true;
  }

  @Test
  void aSecondHostThatForcesItsWayInEndsTheFirstSession() throws Exception {
    openAndMount();
    MangledLink intruder = new MangledLink(new SerialLink(board.portName(), SerialLink.BAUD));
    SerialBench first = benchOn(intruder);
    bench.close();
    first.open();
    first.mount(TestBoards.scene());
    intruder.sendAsStranger();
    BenchException e =
        assertThrows(BenchException.class, () -> first.exchange(MS, command, reading));
    assertEquals(RigFault.SESSION_LOST, e.fault());
    first.close();
  }

  private SerialBench benchOn(Link link) {
    return new SerialBench(link, "serial", null);
  }

  private void openAndMount() throws Exception {
    bench.open();
    bench.mount(TestBoards.scene());
  }

  private static BenchException fails(SerialBench bench) {
    return Assertions.assertTimeoutPreemptively(
        BOUND, () -> assertThrows(BenchException.class, bench::open));
  }
}
