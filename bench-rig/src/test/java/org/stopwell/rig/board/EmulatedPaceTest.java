package org.stopwell.rig.board;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

class EmulatedPaceTest {
  private static final long MS = 1_000_000;

  /** Times as long as a board is usually waited for: the machine may be busy. */
  private static final int PATIENCE = 100;

  private final ControllerOutput command = TestBoards.command(Drive.FORWARD);
  private final ControllerInput reading = new ControllerInput();

  @Test
  void inLockstepTheWireChangesNothingOfWhatTheVirtualBenchSays() throws Exception {
    ControllerInput direct = new ControllerInput();
    try (VirtualBench virtual = new VirtualBench(MS);
        EmulatedBench emulated = EmulatedBench.lockstep(MS)) {
      virtual.open();
      emulated.open();
      virtual.mount(TestBoards.scene());
      emulated.mount(TestBoards.scene());
      assertEquals(TestBoards.text(virtual.truth()), TestBoards.text(emulated.truth()));
      for (long ms = 0; ms < 5000; ms++) {
        command.drive = ms % 1000 < 700 ? Drive.FORWARD : Drive.BRAKE;
        virtual.exchange(ms * MS, command, direct);
        emulated.exchange(ms * MS, command, reading);
        assertEquals(text(direct), text(reading), "at " + ms + " ms");
        assertEquals(TestBoards.text(virtual.truth()), TestBoards.text(emulated.truth()));
      }
    }
  }

  /**
   * A busy machine may stall this process for longer than the board waits; such an attempt is a rig
   * fault, as it would be in a campaign, and says nothing. It is tried until the machine keeps up.
   */
  @Test
  void byTheClockTheMotorTurnsAndNoSampleIsFromTheFuture() throws Exception {
    while (!upToSpeedByTheClock()) {
      System.out.println("the machine stalled this attempt");
    }
  }

  /** Whether the machine kept up. */
  private boolean upToSpeedByTheClock() throws Exception {
    try (EmulatedBench bench = EmulatedBench.realTime(MS, 921_600)) {
      bench.open();
      assertFalse(bench.describe().lockstep());
      bench.mount(TestBoards.scene());
      Pace pace = Pace.realTime(bench.describe().periodNs());
      long nowNs = 0;
      while (nowNs < 500 * MS && bench.truth().speedMilliRpm < 297_000) {
        nowNs = pace.next();
        bench.exchange(nowNs, command, reading);
        assertTrue(reading.sampleTimeNs <= nowNs, reading.sampleTimeNs + " after " + nowNs);
      }
      assertEquals(300_000, bench.truth().speedMilliRpm, 3_000);
      return true;
    } catch (BenchException e) {
      assertTrue(e.fault() == RigFault.NO_ANSWER || e.fault() == RigFault.WATCHDOG, e.getMessage());
      return false;
    }
  }

  /** 8N1: ten bits a byte, 86.8 µs at 115200 bit/s; 41 bytes go, 95 come without frequencies. */
  @Test
  void anExchangeTakesAsLongAsItsBytesTakeOnAWire() throws Exception {
    int baud = 115_200;
    try (EmulatedBoard board = EmulatedBoard.start(EmulatedBoard.identity(false, MS), baud);
        SerialBench bench =
            new SerialBench(new SerialLink(board.portName(), baud), "serial", null, PATIENCE)) {
      bench.open();
      bench.mount(TestBoards.scene());
      long beginNs = MachineClock.nowNs();
      bench.exchange(0, command, reading);
      long tookNs = MachineClock.nowNs() - beginNs;
      assertTrue(tookNs >= (41 + 95) * 86_805L, "took " + tookNs + " ns");
      BenchDescription paced = EmulatedBench.realTime(MS, baud).describe();
      assertTrue(paced.periodNs() >= 2 * 160 * 86_805L, "period " + paced);
    }
  }

  private static String text(ControllerInput in) {
    StringBuilder text = new StringBuilder();
    text.append(in.positionKind).append(' ').append(in.sampleSequence).append(' ');
    text.append(in.sampleTimeNs).append(' ').append(in.frequencyCount).append(' ');
    for (int i = 0; i < in.frequencyCount; i++) {
      text.append(in.frequencyHz[i]).append(' ').append(in.zRealMilliOhms[i]).append(' ');
      text.append(in.zImagMilliOhms[i]).append(' ');
    }
    text.append(in.railed).append(' ').append(in.distanceMicrons).append(' ');
    text.append(in.speedMilliRpm).append(' ').append(in.torqueMicroNewtonMetres).append(' ');
    text.append(in.currentMilliAmps).append(' ').append(in.supplyMilliVolts).append(' ');
    text.append(in.demand).append(in.stopLine).append(in.reset).append(in.stage);
    return text.append(in.linkAgeNs).toString();
  }
}
