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
 * What to check, by cause code. A code without advice does not compile. To rewrite the page: {@code
 * -DargLine=-Dstopwell.write=true}.
 */
class TroubleshootingPageTest {
  private static final Path PAGE = Path.of("..", "docs", "build-a-bench.md");

  private static String lookAt(RigFault fault) {
    return switch (fault) {
      case PORT_MISSING ->
          "cable; `rig list --boards` lists the boards; on the Pi also the overlay in "
              + "`config.txt`";
      case PORT_BUSY -> "another program at the port; a Stopwell that still runs";
      case PORT_DENIED -> "groups `dialout`, `gpio`, `spi`; log in again after joining one";
      case PORT_GONE ->
          "plug and cable; supply of the USB hub; a board that resets when its relays " + "switch";
      case NO_ANSWER ->
          "supply of the board; crystal (a wrong one gives another speed); firmware; " + "`--baud`";
      case SESSION_LOST ->
          "a reset of the board by its supply or its watchdog; another program that opened "
              + "the port";
      case WRONG_IDENTITY ->
          "another board at the port; firmware of another protocol version (flash this "
              + "version); a board that lacks what the bench needs";
      case DUT_OTHER ->
          "settings and build of the board under test: `export firmware` with the settings of "
              + "the plan, then write it to the board ([Firmware](firmware.md))";
      case BENCH_CHANGED ->
          "the board named in the message: connect the board of the campaign's start, then "
              + "`resume`; for another board begin a new run";
      case BAD_FRAMES ->
          "speed at both ends; ground between adapter and board; signal cable beside the "
              + "motor cable";
      case FRONT_END -> "converter: supply, clock, reference; range of its input";
      case LEADS -> "clips, plugs and cable of the measuring circuit; a switch of the ladder";
      case SPEED_SENSOR -> "encoder: supply, plug, coupling to the shaft";
      case MOTOR -> "motor leads; motor driver and its enable line; current sensor";
      case READING_ORDER ->
          "converter and firmware: repeated or reordered samples; two writers on one line";
      case NEGATIVE_RESISTANCE ->
          "leads of the front end; sign and phase of its converter; its calibration";
      case REFUSED ->
          "the message: an impossible key, a resistor that is off, or a stage without home";
      case LATE -> "[real time](#real-time); other programs; a period below that of the board";
      case WATCHDOG -> "a late or stopped host, as for `LATE`; a debugger";
      case STAGE ->
          "the word in the message, in the next table; for \"the canal's encoder says\": another"
              + " stage, a loose coupling, a second home switch at another place";
      case BAD_READING ->
          "firmware: the message names the field, the [wire protocol](wire-protocol.md) its "
              + "limits";
      case BAD_TRUTH ->
          "encoder of the true distance: wires, coupling, supply; start of the scene and "
              + "home of the stage; resistors of the ladder";
    };
  }

  private static String lookAt(StageState state) {
    return switch (state) {
      case RESTING, ARRIVED, HOMING, MOVING, FEEDING -> "nothing: no trouble";
      case STOPPED -> "a stop request during the move";
      case NOT_HOMED -> "a move before home, or after a reset, a limit or a failed search";
      case BUSY ->
          "a second order before the end of the first: a program of your own that does not "
              + "wait";
      case OUTSIDE ->
          "the message with place and limits; length and start of the scene; home; "
              + "`travel_steps`";
      case HOME_LIMIT ->
          "lost steps or a loose switch: speed, ramp, force, supply of the stage driver";
      case FAR_LIMIT ->
          "as `HOME_LIMIT`; `travel_steps` above the travel of the stage; a broken wire of "
              + "the switch";
      case HOME_NOT_FOUND ->
          "motor without power or held; direction swapped; switch that stays closed";
      case HOME_STUCK -> "switch that stays open: held, or broken wire; no travel left beyond it";
      case STOP_LINE -> "emergency stop, its second contact, its wire; then press reset";
      case LEFT_ALONE -> "1 s of silence of the host, or another request of the host";
    };
  }

  private static String lookAt(Cause cause) {
    return switch (cause) {
      case NO_CAUSE -> "nothing: the reading is trusted";
      case LEAKING ->
          "fluid in the chamber; shunt in the scene; fingers or moisture across the " + "terminals";
      case UNWETTED ->
          "tip above the fluid; above the orifice the canal board opens the circuit on "
              + "purpose";
      case OPEN -> "lip clip or file clip off; main relay of the canal board; a wire";
      case JUMPY -> "bad contact at clip or relay; motor supply near the leads; shielding";
      case STALE -> "slow or lost link; period of the board";
      case RAILED -> "short across the ladder; reference resistor; converter input";
      case FROZEN ->
          "a reading that stays while the file moves: stage encoder, board that hangs, "
              + "stuck relay";
      case VAGUE -> "too few samples for the feed; noise; a canal or fluid that was not learned";
      case WIDE ->
          "nothing is wrong with the bench: state a bound (`bound_mm` of the curve, "
              + "`locator_error_mm`) or widen `tolerance_mm`";
    };
  }

  private static String text() {
    StringBuilder page = new StringBuilder("\n**The bench failed:** the trial is `RIG_FAULT`.\n\n");
    page.append("| cause code | check |\n|---|---|\n");
    page.append(
        Arrays.stream(RigFault.values())
            .map(fault -> "| `" + fault + "` | " + lookAt(fault) + " |\n")
            .collect(Collectors.joining()));
    page.append("\n**The stage missed its place:** cause `STAGE` and one of these words.\n\n");
    page.append("| word | check |\n|---|---|\n");
    page.append(
        Arrays.stream(StageState.values())
            .filter(state -> !lookAt(state).startsWith("nothing"))
            .map(state -> "| `" + state + "` | " + lookAt(state) + " |\n")
            .collect(Collectors.joining()));
    page.append("\n**The controller does not trust the reading** and states the cause.\n\n");
    page.append("| cause of lost trust | check |\n|---|---|\n");
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
