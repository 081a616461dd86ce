package org.stopwell.rig.firmware;

import java.io.IOException;
import java.util.List;

/** The device board's binary in the emulator: its chain, its shank scale and its sensors. */
public final class EmulatedDeviceBoard extends EmulatedController {
  /** A board that has just been plugged in. */
  public EmulatedDeviceBoard() throws IOException, InterruptedException {
    super("device");
  }

  /** Brings the shank scale to its home switch and off it again. */
  void home() throws IOException, InterruptedException {
    tell("home 1");
    tell("move 20");
    await("stage ");
    tell("home 0");
    tell("move 4");
    await("stage ");
  }

  /** Moves the shank; what the board did on the way. */
  List<String> move(int steps) throws IOException, InterruptedException {
    forget();
    tell("move " + steps);
    return until("stage ");
  }
}
