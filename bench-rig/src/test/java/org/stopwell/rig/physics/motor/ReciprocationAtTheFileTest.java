package org.stopwell.rig.physics.motor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.State;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;

/**
 * The controller reciprocates the bench's own motor: rotor, windings, driver, sagging supply, gear
 * with play. What counts is the angle of the file, which the controller does not see.
 */
class ReciprocationAtTheFileTest {
  private static final long MS = 1_000_000;
  private static final double STEP_S = 1e-3;

  /** Torque per twist of a file of size 25 and taper 0.06 in nickel-titanium, N·m/rad. */
  private static final double STIFFNESS = 6e-3;

  private static final double LOAD_NM = 2.5e-3;
  private static final double FRICTION_NM = 0.3e-3;

  @ParameterizedTest(name = "{0} rpm, {1} and {2} degrees, play {3}, load {4}")
  @CsvSource({
    "300, 120, 40, 1.0, false",
    "300, 120, 40, 1.0, true",
    "300, 150, 30, 1.0, true",
    "150, 30, 10, 1.0, true",
    "200, 90, 30, 1.5, true",
    "250, 170, 50, 1.0, true",
    "400, 180, 60, 1.0, true",
    "500, 240, 90, 0.5, true",
  })
  void every_stroke_of_the_file_is_within_two_degrees_of_what_is_set(
      int rpm, int forwardDeg, int backwardDeg, double playDeg, boolean loaded) throws Exception {
    List<Double> turningPoints =
        turningPoints(rpm, forwardDeg, backwardDeg, playDeg, loaded, 8_000);
    double worst = worst(turningPoints, forwardDeg, backwardDeg);
    System.out.printf(
        "%d rpm, %d and %d degrees, play %.1f, loaded %b: worst stroke %.2f degrees off, %d points%n",
        rpm, forwardDeg, backwardDeg, playDeg, loaded, worst, turningPoints.size());
    assertTrue(worst <= 2, worst + " degrees off");
    int pairs = (turningPoints.size() - 11) / 2;
    double net = turningPoints.get(10 + 2 * pairs) - turningPoints.get(10);
    assertEquals(forwardDeg - backwardDeg, net / pairs, 0.1, "net advance of a pair of strokes");
  }

  @ParameterizedTest(name = "{0} degrees back")
  @ValueSource(ints = {15, 20, 30, 40, 50, 60, 70, 80, 90, 100, 120, 140, 160})
  void up_to_the_limit_that_check_names_every_stroke_holds(int backwardDeg) throws Exception {
    for (double playDeg : new double[] {1, ReciprocationLimit.MOST_PLAY_DEGREES}) {
      int rpm = ReciprocationLimit.rpm(backwardDeg, playDeg);
      assertTrue(
          worstOfForwardStrokes(rpm, backwardDeg, playDeg) <= ReciprocationLimit.WITHIN_DEGREES);
    }
  }

  @ParameterizedTest(name = "{0} rpm, {1} degrees back")
  @CsvSource({"600, 60", "600, 40", "600, 15", "400, 70", "500, 50", "550, 40"})
  void above_the_limit_strokes_are_missed(int rpm, int backwardDeg) throws Exception {
    assertTrue(rpm > ReciprocationLimit.rpm(backwardDeg, 1));
    assertTrue(worstOfForwardStrokes(rpm, backwardDeg, 1) > ReciprocationLimit.WITHIN_DEGREES);
  }

  /** Two cells of the published table, computed again over all of its strokes. */
  @ParameterizedTest(name = "play of {0} degrees, {1} rpm")
  @CsvSource({"1.5, 250", "2, 150"})
  void the_published_table_is_what_the_motor_does(String playDeg, int rpm) throws Exception {
    double worst = 0;
    for (int backwardDeg : new int[] {15, 20, 30, 40, 60, 90, 120, 160}) {
      worst = Math.max(worst, worstOfForwardStrokes(rpm, backwardDeg, Double.parseDouble(playDeg)));
    }
    List<String> page = Files.readAllLines(Path.of("..", "docs", "research", "reciprocation.md"));
    String head = line(page, "| play | 150 rpm |");
    String row = line(page, "| " + playDeg + "° |");
    int column = List.of(head.split(" \\| ", -1)).indexOf(rpm + " rpm");
    double written = Double.parseDouble(row.split(" \\| ", -1)[column].replace("°", ""));
    assertEquals(written, worst, 0.006);
    assertEquals(
        worst <= ReciprocationLimit.WITHIN_DEGREES,
        rpm <= ReciprocationLimit.rpm(160, Double.parseDouble(playDeg)));
  }

  private static String line(List<String> page, String begin) {
    return page.stream().filter(l -> l.startsWith(begin)).findFirst().orElseThrow();
  }

  private static double worstOfForwardStrokes(int rpm, int backwardDeg, double playDeg)
      throws Exception {
    double worst = 0;
    int[] forwards = {backwardDeg + 20, 2 * backwardDeg + 10, Math.max(180, backwardDeg + 20)};
    for (int forwardDeg : forwards) {
      for (boolean loaded : new boolean[] {false, true}) {
        List<Double> points = turningPoints(rpm, forwardDeg, backwardDeg, playDeg, loaded, 9_000);
        worst = Math.max(worst, worst(points, forwardDeg, backwardDeg));
      }
    }
    System.out.printf(
        "play %.1f, %d rpm, %d degrees back: %.2f degrees off%n", playDeg, rpm, backwardDeg, worst);
    return worst;
  }

  private static List<Double> turningPoints(
      int rpm, int forwardDeg, int backwardDeg, double playDeg, boolean loaded, int milliseconds)
      throws Exception {
    GearMotor motor = new GearMotor(new Supply(12, 0.2, 0.3), Math.toRadians(playDeg), STIFFNESS);
    StopController controller = new StopController(settings(rpm, forwardDeg, backwardDeg));
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    List<Double> turningPoints = new ArrayList<>();
    double before = 0;
    int way = 1;
    for (int ms = 1; ms <= milliseconds; ms++) {
      farAway(in, ms);
      in.speedMilliRpm = (int) Math.rint(motor.radPerS() * 60_000 / (2 * Math.PI));
      in.torqueMicroNewtonMetres = (int) Math.rint(motor.measuredTorque() * 1e6);
      controller.step(ms * MS, in, out);
      drive(motor, out, loaded);
      double now = Math.toDegrees(motor.fileRadians());
      if ((now - before) * way < 0) {
        turningPoints.add(before);
        way = -way;
      }
      before = now;
    }
    assertEquals(State.TURNING, out.state, out.reason.toString());
    assertTrue(turningPoints.size() > 20, turningPoints.size() + " turning points");
    return turningPoints;
  }

  /** The first strokes are left out: the motor starts and the play is taken up. */
  private static double worst(List<Double> turningPoints, int forwardDeg, int backwardDeg) {
    double worst = 0;
    for (int i = 11; i < turningPoints.size(); i++) {
      double stroke = turningPoints.get(i) - turningPoints.get(i - 1);
      double set = stroke > 0 ? forwardDeg : -backwardDeg;
      worst = Math.max(worst, Math.abs(stroke - set));
    }
    return worst;
  }

  private static void drive(GearMotor motor, ControllerOutput out, boolean loaded) {
    double wanted = out.speedMilliRpm * 2 * Math.PI / 60_000;
    double limit = out.torqueLimitMicroNewtonMetres * 1e-6;
    double signed = out.drive == Drive.BACKWARD ? -wanted : wanted;
    motor.resist(loaded ? LOAD_NM : 0, loaded ? FRICTION_NM : 0);
    switch (out.drive) {
      case OFF -> motor.coast(STEP_S);
      case BRAKE -> motor.brake(STEP_S);
      case FORWARD, BACKWARD -> motor.turn(signed, limit, STEP_S);
    }
  }

  /** An outside locator that sees the file 8 mm short of the foramen, first outside. */
  private static void farAway(ControllerInput in, int ms) {
    in.sampleSequence = ms;
    in.sampleTimeNs = ms * MS;
    in.positionKind = PositionKind.DISTANCE;
    in.distanceMicrons = (ms < 500 ? 40_000 : 8_000) + ms % 7;
    in.supplyMilliVolts = 12_000;
  }

  private static ControllerSettings settings(int rpm, int forwardDeg, int backwardDeg)
      throws Exception {
    return ControllerSettings.of(
        Map.of(
            "file", Map.of("size", 25, "taper", "0.06"),
            "sense",
                Map.of("policy", "locator", "locator_step_mm", "0.001", "locator_rate_hz", 200),
            "stages.length",
                Map.of(
                    "speed_rpm",
                    rpm,
                    "torque_ncm",
                    "0.6",
                    "motion",
                    "reciprocate",
                    "forward_deg",
                    forwardDeg,
                    "backward_deg",
                    backwardDeg,
                    "on_wide",
                    "none")), // no bound is stated here, and easing is another speed
        new Calibration(
            List.of(new Calibration.Point(1, -1_000, 1), new Calibration.Point(2, 4_000, 2))));
  }
}
