package org.stopwell.rig.firmware;

import java.io.IOException;
import java.util.List;

/** The canal board's binary in the emulator: its relays and its stage. */
public final class EmulatedCanalBoard extends EmulatedController {
  /** A board that has just been plugged in. */
  public EmulatedCanalBoard() throws IOException, InterruptedException {
    super("canal");
  }

  /** Brings the stage to its home switch and off it again. */
  public void home() throws IOException, InterruptedException {
    tell("home 1");
    tell("move 8");
    await("stage ");
    tell("home 0");
  }

  /** Moves the stage; what the relays did on the way. */
  public List<Integer> move(int steps) throws IOException, InterruptedException {
    forget();
    tell("move " + steps);
    return until("stage ").stream()
        .filter(event -> event.startsWith("word "))
        .map(event -> Integer.parseInt(event.substring("word ".length()), 16))
        .toList();
  }
}
