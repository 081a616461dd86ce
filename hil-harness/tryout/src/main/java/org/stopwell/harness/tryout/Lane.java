package org.stopwell.harness.tryout;

import org.stopwell.core.Explain;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.core.trace.Event;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.hand.GuidedHand;
import org.stopwell.rig.virtual.Plant;

/** One controller with a motor, a canal and the hand of the person at the page. */
final class Lane {
  /** Control period, ns: that of the virtual bench. */
  static final long PERIOD_NS = 1_000_000;

  private final ControllerSettings settings;
  private final Scene scene;
  private final Stage stage;
  private final Canal canal;
  private final GuidedHand hand;
  private final Plant plant;
  private final StopController controller;
  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private final Truth truth = new Truth();
  private final Event event = new Event();
  private long nowNs;

  Lane(ControllerSettings settings, Scene scene, Stage stage) {
    this.settings = settings;
    this.scene = scene;
    this.stage = stage;
    canal = Canal.of(scene.section("canal"));
    hand = new GuidedHand(scene.section("hand"), canal.length(), scene.seed(), Plant.TICK_NS);
    plant = new Plant(scene, hand);
    controller = new StopController(settings);
    plant.truth(truth);
  }

  /** Points the hand to a depth below the orifice, µm. */
  void pointTo(int depthMicrons) {
    hand.pointTo(Math.min(canal.length() - depthMicrons * 1e-6, hand.start()));
  }

  /** Sets the surface of the fluid, µm above the foramen. */
  void fillTo(long levelMicrons) {
    plant.fillTo(levelMicrons * 1e-6);
  }

  /** Goes on by one control period. */
  void step(boolean demand) {
    nowNs += PERIOD_NS;
    plant.advance(nowNs, out);
    plant.read(in);
    in.demand = demand;
    in.stage = stage;
    controller.step(nowNs, in, out);
    plant.truth(truth);
  }

  /** What the drawing of the canal needs, and stays. */
  String scene() {
    ParameterValues file = scene.section("file");
    ParameterValues fluid = scene.section("fluid");
    ParameterValues values = settings.stage(stage);
    double area = fluid.get(FluidSection.CHAMBER_AREA) * 1e-9;
    return new JsonText()
        .number("canalUm", Canal.lengthMicrons(scene.section("canal")))
        .raw("bore", bore())
        .numberIf(
            canal.constriction() > 0, "constrictionUm", Math.round(canal.constriction() * 1e6))
        .number("chamberUm", fluid.get(FluidSection.CHAMBER_DEPTH))
        .raw(
            "chamberDiameterUm",
            Decimal.shortest(Decimal.nearest(2e6 * Math.sqrt(area / Math.PI), 1), 1))
        .raw(
            "file",
            new JsonText()
                .number("tipDiameterUm", 10 * file.get(FileSection.SIZE))
                .raw("taper", FileSection.TAPER.human(file.get(FileSection.TAPER)))
                .number("cuttingUm", file.get(FileSection.CUTTING_LENGTH))
                .end())
        .number("standoffUm", values.get(StageParameters.STANDOFF))
        .number("toleranceUm", values.get(StageParameters.TOLERANCE))
        .raw("simulated", "true")
        .end();
  }

  /** Depth below the orifice and diameter of each corner of the hollow, µm, orifice first. */
  private String bore() {
    Bore bore = plant.specimen().bore();
    StringBuilder out = new StringBuilder("[");
    for (int i = bore.points() - 1; i >= 0; i--) {
      out.append(out.length() > 1 ? "," : "")
          .append('[')
          .append(Decimal.shortest(Decimal.nearest((canal.length() - bore.height(i)) * 1e6, 1), 1))
          .append(',')
          .append(Decimal.shortest(Decimal.nearest(2e6 * bore.radius(bore.height(i)), 1), 1))
          .append(']');
    }
    return out.append(']').toString();
  }

  /** What is so now. */
  String frame() {
    int length = (int) Canal.lengthMicrons(scene.section("canal"));
    double share = plant.specimen().leakShare();
    boolean current = truth.remainingMicrons <= truth.fluidLevelMicrons && !Double.isNaN(share);
    return new JsonText()
        .number("tMs", nowNs / 1_000_000)
        .number("trueUm", truth.remainingMicrons)
        .numberIf(out.readingPresent, "readingUm", out.remainingMicrons)
        .numberIf(out.readingPresent && out.boundMicrons > 0, "boundUm", out.boundMicrons)
        .word("trust", out.trust)
        .word("cause", out.cause)
        .word("state", out.state)
        .word("drive", out.drive)
        .word("reason", out.reason)
        .raw("speedRpm", Decimal.shortest(truth.speedMilliRpm, 3))
        .raw("torqueNcm", Decimal.shortest(truth.torqueMicroNewtonMetres, 4))
        .number("fluidUm", truth.fluidLevelMicrons - length)
        .raw("leakShare", current ? Decimal.shortest(Decimal.nearest(share, 4), 4) : "null")
        .end();
  }

  /** Hash of the whole state of the controller, 16 hexadecimal digits. */
  String hash() {
    String digits = Long.toHexString(controller.stateHash());
    return "0".repeat(16 - digits.length()) + digits;
  }

  /** Why the controller is in its state. */
  String sentence() {
    long count = controller.events().count();
    if (count > 0) {
      controller.events().get(count - 1, event);
    }
    return Explain.event(event);
  }
}
