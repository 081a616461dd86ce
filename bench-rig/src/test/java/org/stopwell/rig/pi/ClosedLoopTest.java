package org.stopwell.rig.pi;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.State;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.firmware.EmulatedCanalBoard;
import org.stopwell.rig.firmware.Firmware;

/**
 * The whole Pi bench without hardware: the controller, the motor at model pins, the canal board's
 * real binary in its emulator, the serial library between.
 */
class ClosedLoopTest {
  private static final int HOME_MICRONS = 25_000;
  private static final int STEP_MICRONS = 5;

  private final ControllerInput reading = new ControllerInput();
  private final ControllerOutput command = new ControllerOutput();
  private EmulatedCanalBoard board;
  private PiRig rig;
  private long nowNs;
  private long boardNs;
  private int atMicrons = HOME_MICRONS;

  @BeforeAll
  static void build() throws Exception {
    Firmware.make("canal-board", "emulators");
  }

  @BeforeEach
  void open() throws Exception {
    board = new EmulatedCanalBoard();
    rig = new PiRig(board.bench("C-0001"));
    rig.open();
    board.tell("home 1");
    exchangeNothing();
    board.tell("home 0");
  }

  @AfterEach
  void unplug() {
    rig.close();
    board.close();
  }

  /** A request, so that the board has time to see its home switch. */
  private void exchangeNothing() throws Exception {
    try {
      rig.mount(Scene.of(Map.of(), 1));
    } catch (BenchException e) {
      assertTrue(String.valueOf(e.getMessage()).contains("canal.kind"), e.getMessage());
    }
  }

  /** The board measures its ladder alone while it mounts; in the trial its time waits for us. */
  private void mounted() throws Exception {
    board.tell("wait 90");
    rig.mount(
        Scene.of(
            Map.of("canal", Map.of("kind", "resistors", "ohm_per_mm", 3000, "length_mm", 8)), 1));
    board.tell("wait 25");
    nowNs = -1;
    boardNs = 0;
    exchange();
  }

  /** One exchange. Time is the board's: it stands still while this program is kept waiting. */
  private void exchange() throws Exception {
    nowNs = Math.max(nowNs + 1_000_000, boardNs);
    rig.exchange(nowNs, command, reading);
    boardNs = rig.canalNs();
  }

  private void send(int toMicrons, int microsPerStep) throws Exception {
    board.tell("pace " + microsPerStep);
    board.tell("move " + (atMicrons - toMicrons) / STEP_MICRONS);
    atMicrons = toMicrons;
  }

  private void goTo(int microns) throws Exception {
    send(microns, 100);
    while (rig.truth().remainingMicrons != microns) {
      exchange();
    }
  }

  /** The board's own reading at known places of its stage. */
  private Calibration calibrate() throws Exception {
    List<Calibration.Point> points = new ArrayList<>();
    for (int microns = -500; microns <= 4_000; microns += 250) {
      goTo(microns);
      long sum = 0;
      long sample = reading.sampleSequence + 2;
      int count = 0;
      while (count < 4) {
        exchange();
        if (reading.sampleSequence > sample) {
          sample = reading.sampleSequence;
          sum += reading.zRealMilliOhms[0];
          count++;
        }
      }
      points.add(new Calibration.Point(sum / count, microns, sum / count));
    }
    return new Calibration(points);
  }

  @Test
  void the_motor_stops_at_the_standoff_though_the_hand_pushes_on() throws Exception {
    mounted();
    Calibration curve = calibrate();
    goTo(9_000);
    mounted();
    StopController controller =
        new StopController(
            ControllerSettings.of(
                Map.of(
                    "file", Map.of("size", 25, "taper", "0.04"),
                    "sense", Map.of("policy", "resistance", "low_hz", 700),
                    "stages.length", Map.of("speed_rpm", 300, "torque_ncm", "0.6")),
                curve));
    send(2_000, 1_000);
    double fastest = 0;
    boolean close = false;
    int stoppedAt = Integer.MAX_VALUE;
    while (rig.truth().remainingMicrons > 250) {
      controller.step(nowNs, reading, command);
      exchange();
      fastest = Math.max(fastest, rig.pins.rpm());
      if (!close && rig.truth().remainingMicrons == 2_000) {
        close = true;
        send(250, 5_000);
      }
      if (close && stoppedAt == Integer.MAX_VALUE && command.drive != Drive.FORWARD) {
        stoppedAt = rig.truth().remainingMicrons;
      }
    }
    for (int i = 0; i < 100; i++) {
      controller.step(nowNs, reading, command);
      exchange();
    }

    assertTrue(fastest > 100, "the motor has turned, " + fastest + " rpm at most");
    // At 1 mm/s the controller stops early by what it expects of filter, link and coast.
    assertTrue(
        stoppedAt > 450 && stoppedAt < 800,
        stoppedAt + " µm when the power went; " + command.state + ", " + command.reason);
    assertEquals(State.HOLDING, command.state);
    assertEquals(0, rig.pins.rpm());
  }
}
