package org.stopwell.rig.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.wire.StageState;

/**
 * Where to look, by cause code. A code without advice does not compile. To write the page anew:
 * {@code -DargLine=-Dstopwell.write=true}.
 */
class TroubleshootingPageTest {
  private static final Path PAGE = Path.of("..", "docs", "build-a-bench.md");

  private static String lookAt(RigFault fault) {
    return switch (fault) {
      case PORT_MISSING ->
          "the cable; `rig list --boards` says who is where; on the Pi: the overlay in"
              + " `config.txt`";
      case PORT_BUSY -> "another program that holds the port; a Stopwell that still runs";
      case PORT_DENIED -> "the groups `dialout`, `gpio`, `spi`; log in again after joining one";
      case PORT_GONE ->
          "plug and cable; the supply of the USB hub; a board that resets when its relays"
              + " switch";
      case NO_ANSWER ->
          "the board's supply; the crystal (a wrong one gives another speed); the firmware"
              + " in it; `--baud`";
      case SESSION_LOST ->
          "the board was reset: its supply, its own watchdog; or another program" + " opened it";
      case WRONG_IDENTITY ->
          "another board at that port; a firmware of another protocol version: flash"
              + " it from this version; a board without what this bench needs";
      case BENCH_CHANGED ->
          "the board named in the message: connect the board that the campaign began with, then"
              + " `resume`; begin a new run for another board";
      case BAD_FRAMES ->
          "speed at both ends; ground between adapter and board; a cable along the" + " motor's";
      case FRONT_END ->
          "the converter: its supply, its clock, its reference; the range of its input";
      case LEADS -> "clips, plugs and cable of the measuring circuit; a switch of the ladder";
      case SPEED_SENSOR -> "the encoder: its supply, its plug, its coupling to the shaft";
      case MOTOR -> "the leads of the motor; its driver and its enable line; its current sensor";
      case READING_ORDER ->
          "the converter and its firmware: it repeats or reorders samples; two writers on one line";
      case NEGATIVE_RESISTANCE ->
          "the leads of the front end; the sign and phase of its converter; its calibration";
      case REFUSED ->
          "the sentence with it: the key that cannot be, the resistor that is off, the"
              + " stage that was not home";
      case LATE ->
          "the section above on real time; other programs; a period below that of the board";
      case WATCHDOG -> "the host was late or stood still: as for `LATE`; a debugger";
      case STAGE ->
          "the word in the message, in the table below; \"the canal's encoder says\": another"
              + " stage, a loose coupling, a home switch of its own that stands elsewhere";
      case BAD_READING ->
          "the firmware: the message names the field; the wire protocol says what it holds";
      case BAD_TRUTH ->
          "the encoder that tells the true distance: its wires, its coupling, its supply; where the"
              + " scene starts and where the stage is homed; the resistors of the ladder";
    };
  }

  private static String lookAt(StageState state) {
    return switch (state) {
      case RESTING, ARRIVED, HOMING, MOVING -> "nothing: no trouble";
      case STOPPED -> "somebody or something told it to stop on its way";
      case NOT_HOMED ->
          "it was sent somewhere before home; after a reset, a limit or a failed search";
      case BUSY -> "two orders at once: a program of your own that does not wait";
      case OUTSIDE ->
          "place and limits stand in the message; length and start of the scene, where home"
              + " is, `travel_steps`";
      case HOME_LIMIT ->
          "steps were lost, or the switch works loose: speed, ramp, force, supply of its"
              + " driver";
      case FAR_LIMIT ->
          "the same; `travel_steps` greater than the stage is long; a broken wire of the"
              + " switch";
      case HOME_NOT_FOUND ->
          "motor without power or held; direction swapped; a switch that stays" + " closed";
      case HOME_STUCK ->
          "a switch that stays open: held, or its wire broken; no way left beyond it";
      case STOP_LINE -> "the emergency stop, its second contact, its wire; then press reset";
      case LEFT_ALONE -> "the host was silent for 1 s, or began something else";
    };
  }

  private static String lookAt(Cause cause) {
    return switch (cause) {
      case NO_CAUSE -> "nothing: the reading is believed";
      case LEAKING ->
          "fluid in the chamber; a shunt in the scene; fingers or moisture across the"
              + " terminals";
      case UNWETTED ->
          "tip above the fluid; the canal board's circuit open above the orifice, which is"
              + " right there";
      case OPEN -> "lip electrode or file clip off; main relay of the canal board; a wire";
      case JUMPY -> "a bad contact at clip or relay; the motor's supply near the leads; shielding";
      case STALE -> "a slow or lost link; the period of the board";
      case RAILED -> "a short across the ladder; reference resistor; converter input";
      case FROZEN ->
          "the file moves and the reading does not: encoder of the stage, a board that"
              + " hangs, a stuck relay";
      case VAGUE -> "too few samples for the speed of the feed; noise";
    };
  }

  private static String text() {
    StringBuilder page = new StringBuilder("\nThe bench failed: the trial is `RIG_FAULT`.\n\n");
    page.append("| cause code | look at |\n|---|---|\n");
    page.append(
        Arrays.stream(RigFault.values())
            .map(fault -> "| `" + fault + "` | " + lookAt(fault) + " |\n")
            .collect(Collectors.joining()));
    page.append("\nThe stage did not go where it was sent: cause `STAGE`, and this word.\n\n");
    page.append("| word | look at |\n|---|---|\n");
    page.append(
        Arrays.stream(StageState.values())
            .filter(state -> !lookAt(state).startsWith("nothing"))
            .map(state -> "| `" + state + "` | " + lookAt(state) + " |\n")
            .collect(Collectors.joining()));
    page.append("\nThe reading is not believed: the controller says why.\n\n");
    page.append("| cause of lost trust | on a bench, look at |\n|---|---|\n");
    page.append(
        Arrays.stream(Cause.values())
            .filter(cause -> cause != Cause.NO_CAUSE)
            .map(cause -> "| `" + cause + "` | " + lookAt(cause) + " |\n")
            .collect(Collectors.joining()));
    return page.append("\n").toString();
  }

  @Test
  void thePageSaysWhereToLookForEveryCode() throws IOException {
    String page = Files.readString(PAGE);
    String begin = "<!-- generated: trouble -->\n";
    int from = page.indexOf(begin) + begin.length();
    int to = page.indexOf("<!-- end: trouble -->");
    assertTrue(from >= begin.length() && to >= from, "no block trouble");
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(PAGE, page.substring(0, from) + text() + page.substring(to));
    } else {
      assertEquals(text(), page.substring(from, to));
    }
  }
}
