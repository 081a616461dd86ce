package org.stopwell.rig.firmware;

import java.io.IOException;
import java.util.function.Consumer;

/** The drive board's binary in the emulator: its motor, its stop line and its stage. */
public final class EmulatedDriveBoard extends EmulatedController {
  /** A board that has just been plugged in. */
  public EmulatedDriveBoard() throws IOException, InterruptedException {
    super("drive");
  }

  /** Where the carriage really is, µm from the home switch. */
  public int carriageMicrons() throws IOException, InterruptedException {
    forget();
    tell("tell");
    await("stepped "); // what comes before it is of the way here
    return Integer.parseInt(await("carriage ").substring("carriage ".length()));
  }

  /** Couples the stage to a canal board: its encoder and its home switch go with the carriage. */
  void carries(EmulatedCanalBoard canal, int canalStepMicrons) throws IOException {
    Consumer<String> follow =
        said -> {
          try {
            if (said.startsWith("carriage ")) {
              int microns = Integer.parseInt(said.substring("carriage ".length()));
              canal.tell("goto " + Math.floorDiv(microns, canalStepMicrons));
            } else if (said.startsWith("switch ")) {
              canal.tell("home " + said.substring("switch ".length()));
            }
          } catch (IOException e) {
            throw new AssertionError(e);
          }
        };
    canal.tell("pace 100");
    listener(follow);
    tell("tell");
  }
}
