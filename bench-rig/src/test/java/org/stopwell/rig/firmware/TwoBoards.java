package org.stopwell.rig.firmware;

import java.io.IOException;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.serial.BoardsBench;

/**
 * Both boards as real binaries, coupled by the stage: where its carriage goes, the canal counts.
 */
public final class TwoBoards implements AutoCloseable {
  private static final int CANAL_STEP_MICRONS = 5;

  /** The board with motor and stage. */
  public final EmulatedDriveBoard drive;

  /** The board that stands for the tooth. */
  public final EmulatedCanalBoard canal;

  /** Both just plugged in, by the machine's clock. */
  public TwoBoards() throws IOException, InterruptedException {
    Firmware.make("canal-board", "drive-board", "emulators");
    drive = new EmulatedDriveBoard();
    canal = new EmulatedCanalBoard();
    drive.carries(canal, CANAL_STEP_MICRONS);
  }

  /** Both as fast as this machine can, and waiting for their host while the motor is off. */
  public static TwoBoards patient(int times) throws IOException, InterruptedException {
    TwoBoards boards = new TwoBoards();
    boards.drive.waitsAtRest();
    boards.drive.hurries(times);
    boards.canal.hurries(times);
    return boards;
  }

  /** The bench of both, not open yet. */
  public BoardsBench bench() {
    return new BoardsBench(canal.bench("C-0001"), drive.bench("D-0001"));
  }

  /**
   * The bench of patient boards, whose clocks are the trial's: no busy machine makes a stage feed
   * faster.
   */
  public Bench paced() {
    return new Paced(bench());
  }

  @Override
  public void close() {
    drive.close();
    canal.close();
  }

  private final class Paced extends ForwardingBench {
    Paced(Bench bench) {
      super(bench);
    }

    @Override
    public void mount(Scene scene) throws BenchException {
      try {
        drive.waitsAtRest(); // no longer held to the time of the trial before
        canal.tell("wait 0"); // it follows the stage while nobody speaks to it
        bench.mount(scene);
        canal.waitsForItsHost();
        drive.zero();
        canal.zero();
      } catch (IOException e) {
        throw new AssertionError(e);
      }
    }

    @Override
    public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
        throws BenchException {
      try {
        drive.until(nowNs / 1_000_000);
        canal.until(nowNs / 1_000_000);
      } catch (IOException | InterruptedException e) {
        throw new AssertionError(e);
      }
      bench.exchange(nowNs, command, reading);
    }
  }
}
