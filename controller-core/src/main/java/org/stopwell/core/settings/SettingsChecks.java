package org.stopwell.core.settings;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.weights.DepthWeights;

/** Checks that need more than one value: every message names both. */
final class SettingsChecks {
  /** One and a half update intervals of a locator, over its rate in mHz, ns. */
  private static final long UPDATES_OF_AGE_NS = 1_500_000_000_000L;

  private final SensingNeeds needs;
  private final List<Fault> faults;

  private SettingsChecks(SensingNeeds needs, List<Fault> faults) {
    this.needs = needs;
    this.faults = faults;
  }

  static void addFaults(
      Map<String, ParameterValues> sections,
      SensingNeeds needs,
      Calibration calibration,
      List<Fault> faults) {
    SettingsChecks checks = new SettingsChecks(needs, faults);
    for (String name : List.of("file", "sense")) {
      if (!sections.containsKey(name)) {
        checks.add(name, "the section is missing");
      }
    }
    if (Stream.of(Stage.values())
        .map(ControllerSettings::nameOf)
        .noneMatch(sections::containsKey)) {
      checks.add("stages", "no stage is given; give at least one of open, length, shape, recheck");
    }
    ParameterValues sense = sections.get("sense");
    if (sense != null) {
      checks.sense(sense);
      checks.calibration(sense, calibration);
      checks.locator(sense, sections.get("guard"));
    }
    ParameterValues guard = sections.get("guard");
    boolean locator = needs.single() == SensingNeeds.Single.DISTANCE;
    for (Stage stage : Stage.values()) {
      String name = ControllerSettings.nameOf(stage);
      ParameterValues values = sections.get(name);
      if (values != null) {
        checks.stage(name, values, calibration);
        if (locator && sense != null) {
          checks.locatorStage(name, values, sense);
        }
        if (sense != null && needs.reads(SenseParameters.REFUSE_BOUND.key())) {
          checks.notAbove(
              name,
              values,
              StageParameters.TOLERANCE,
              "sense",
              sense,
              SenseParameters.REFUSE_BOUND);
        }
        checks.strength(name, values, fileOf(stage, sections));
        if (guard != null) {
          checks.notAbove(
              name, values, StageParameters.SPEED, "guard", guard, GuardParameters.SPEED_LIMIT);
          checks.notAbove(
              name, values, StageParameters.TORQUE, "guard", guard, GuardParameters.TORQUE_LIMIT);
        }
      } else if (sections.containsKey(ControllerSettings.fileOf(stage))) {
        checks.add(name, "the section is missing, and its file is given");
      }
    }
  }

  private static @Nullable ParameterValues fileOf(
      Stage stage, Map<String, ParameterValues> sections) {
    ParameterValues own = sections.get(ControllerSettings.fileOf(stage));
    return own == null ? sections.get("file") : own;
  }

  private void sense(ParameterValues sense) {
    rising(sense, SenseParameters.LOW, SenseParameters.HIGH);
    rising(sense, SenseParameters.LEAK_FLOOR, SenseParameters.ENTER);
    rising(sense, SenseParameters.ENTER, SenseParameters.UNWETTED);
    rising(sense, SenseParameters.UNWETTED, SenseParameters.OPEN);
    rising(sense, SenseParameters.ENTER_DISTANCE, SenseParameters.LEAVE_DISTANCE);
  }

  /** What a policy from outside may ask a front end for. */
  static void addHertzFault(ControllerSettings settings, List<Fault> faults) {
    int[] hertz = settings.sensedHertz();
    boolean impedance = settings.sensing().signal() == PositionKind.IMPEDANCE;
    boolean possible =
        impedance
            ? hertz.length >= 1 && hertz.length <= ControllerInput.MAX_FREQUENCIES
            : hertz.length == 0;
    for (int i = 0; i < hertz.length; i++) {
      possible &= hertz[i] > (i == 0 ? 0 : hertz[i - 1]);
    }
    if (!possible) {
      faults.add(
          new Fault(
              PolicyTables.SENSING,
              PolicyTables.SENSING
                  + ": policy "
                  + settings.sensingPolicy()
                  + " asks for the frequencies "
                  + Arrays.toString(hertz)
                  + " Hz; with impedance it must ask for 1 to "
                  + ControllerInput.MAX_FREQUENCIES
                  + ", ascending, with a locator for none"));
    }
  }

  /** A policy that reads by weights needs some, and a file that they know. */
  static void addWeightsFaults(
      Map<String, ParameterValues> sections,
      SensingNeeds needs,
      @Nullable DepthWeights weights,
      List<Fault> faults) {
    SettingsChecks checks = new SettingsChecks(needs, faults);
    if (needs.byWeights() && weights == null) {
      checks.add("sense.weights", "the policy reads by weights, and there are none");
    }
    if (weights == null) {
      return;
    }
    List<String> named = new ArrayList<>();
    for (Stage stage : Stage.values()) {
      ParameterValues values = sections.get(ControllerSettings.nameOf(stage));
      ParameterValues file = fileOf(stage, sections);
      String own = ControllerSettings.fileOf(stage);
      String name = sections.containsKey(own) ? own : "file";
      if (values != null
          && file != null
          && StageParameters.reads(values)
          && !named.contains(name)) {
        named.add(name);
        checks.knownFile(name, file, weights.validity());
      }
    }
  }

  private void knownFile(String name, ParameterValues file, DepthWeights.Validity valid) {
    if (!valid.hasSize(file.get(FileParameters.SIZE))) {
      unknownFile(name, file, FileParameters.SIZE, valid.sizes());
    }
    if (!valid.hasTaper(file.get(FileParameters.TAPER))) {
      unknownFile(name, file, FileParameters.TAPER, valid.tapers());
    }
  }

  private void unknownFile(String name, ParameterValues file, Parameter p, List<Integer> known) {
    add(
        name + "." + p.key(),
        human(file, p).strip()
            + " is outside "
            + p.human(known.get(0))
            + " to "
            + p.human(known.get(1))
            + ", the files that the weights were fitted for; use such a file, other weights or"
            + " another policy");
  }

  /** Two keys contradict each other only where the policy reads both. */
  private void rising(ParameterValues sense, Parameter low, Parameter high) {
    if (needs.reads(low.key()) && needs.reads(high.key())) {
      below("sense", sense, low, high);
    }
  }

  /** A locator needs its step and rate, and values that are fresh enough. */
  private void locator(ParameterValues sense, @Nullable ParameterValues guard) {
    if (needs.single() != SensingNeeds.Single.DISTANCE) {
      return;
    }
    for (Parameter p : List.of(SenseParameters.LOCATOR_STEP, SenseParameters.LOCATOR_RATE)) {
      if (!sense.isGiven(p)) {
        add(
            "sense." + p.key(),
            "missing; sense.policy "
                + sense.choice(SenseParameters.POLICY)
                + " needs it. "
                + p.text());
      }
    }
    notAbove(
        "sense", sense, SenseParameters.LOCATOR_SLOW, "sense", sense, SenseParameters.LOCATOR_FEED);
    long leastNs = UPDATES_OF_AGE_NS / sense.get(SenseParameters.LOCATOR_RATE);
    if (guard != null && !(guard.get(GuardParameters.SIGNAL_AGE) >= leastNs)) {
      add(
          "guard.signal_age_ms",
          human(guard, GuardParameters.SIGNAL_AGE)
              + " is below one and a half updates of the locator at sense.locator_rate_hz "
              + human(sense, SenseParameters.LOCATOR_RATE)
              + "; write at least "
              + GuardParameters.SIGNAL_AGE.human(leastNs)
              + " ms");
    }
  }

  /** How far a file may travel beyond the standoff before a locator can show it. */
  private void locatorStage(String name, ParameterValues stage, ParameterValues sense) {
    if (stage.isGiven(StageParameters.LEARN_COAST) && stage.flag(StageParameters.LEARN_COAST)) {
      add(
          name + ".learn_coast",
          "true has no effect: the steps of a locator are too coarse to learn from; write false");
    }
    int standoff = stage.getInt(StageParameters.STANDOFF);
    boolean stopsShort =
        !stage.choice(StageParameters.APICAL).equals(StageParameters.NONE) && standoff >= 0;
    long step = sense.get(SenseParameters.LOCATOR_STEP);
    long feed = sense.get(SenseParameters.LOCATOR_FEED);
    long rate = sense.get(SenseParameters.LOCATOR_RATE);
    long travel = step + (feed * 1000 + rate - 1) / rate;
    if (stopsShort && !(travel <= standoff)) {
      add(
          name + ".standoff_mm",
          human(stage, StageParameters.STANDOFF)
              + " is below the over-travel that the locator allows, "
              + StageParameters.STANDOFF.human(travel)
              + " mm: sense.locator_step_mm "
              + human(sense, SenseParameters.LOCATOR_STEP)
              + " and sense.locator_feed_mm_s "
              + human(sense, SenseParameters.LOCATOR_FEED)
              + " over sense.locator_rate_hz "
              + human(sense, SenseParameters.LOCATOR_RATE)
              + "; feed slower, raise the standoff, or use a locator with finer steps or more values"
              + " per second");
    }
  }

  private void calibration(ParameterValues sense, Calibration calibration) {
    if (!needs.byCurve()) {
      return;
    }
    List<Calibration.Point> points = calibration.points();
    if (points.size() < 2) {
      add(
          "calibration",
          "sense.policy "
              + sense.choice(SenseParameters.POLICY)
              + " needs a curve of at least 2 points, not "
              + points.size());
      return;
    }
    if (points.get(0).feature() <= 0) {
      add("calibration", "feature " + points.get(0).feature() + " is not above 0");
    }
    for (int i = 1; i < points.size(); i++) {
      Calibration.Point a = points.get(i - 1);
      Calibration.Point b = points.get(i);
      if (!(b.feature() > a.feature())) {
        add(
            "calibration",
            "feature " + b.feature() + " of point " + i + " is not above " + a.feature());
      }
      if (!(b.remainingMicrons() > a.remainingMicrons())) {
        add(
            "calibration",
            "distance "
                + b.remainingMicrons()
                + " um of point "
                + i
                + " is not above "
                + a.remainingMicrons()
                + " um");
      }
    }
  }

  private void stage(String name, ParameterValues stage, Calibration calibration) {
    notAbove(name, stage, StageParameters.EASE_SPEED, name, stage, StageParameters.SPEED);
    String motion = stage.choice(StageParameters.MOTION);
    if (motion.equals(StageParameters.RECIPROCATE) || motion.equals(StageParameters.BY_LOAD)) {
      below(name, stage, StageParameters.BACKWARD_ANGLE, StageParameters.FORWARD_ANGLE);
    }
    boolean stopsAtStandoff = !stage.choice(StageParameters.APICAL).equals(StageParameters.NONE);
    if (!stopsAtStandoff || !needs.byCurve() || calibration.points().size() < 2) {
      return;
    }
    int standoff = stage.getInt(StageParameters.STANDOFF);
    int nearest = calibration.nearestMicrons();
    int farthest = calibration.farthestMicrons();
    if (!(standoff >= nearest && standoff < farthest)) {
      add(
          name + ".standoff_mm",
          StageParameters.STANDOFF.human(standoff)
              + " mm is outside of the calibrated curve, "
              + StageParameters.STANDOFF.human(nearest)
              + " to "
              + StageParameters.STANDOFF.human(farthest)
              + " mm");
    }
  }

  private void strength(String name, ParameterValues stage, @Nullable ParameterValues file) {
    if (file == null) {
      return;
    }
    int torque = stage.getInt(StageParameters.TORQUE);
    int strength = new FileStrength(file).torqueMicroNewtonMetres();
    if (!(torque <= strength)) {
      add(
          name + ".torque_ncm",
          human(stage, StageParameters.TORQUE)
              + " is above the strength of the file, "
              + StageParameters.TORQUE.human(strength)
              + " N·cm (size "
              + FileParameters.SIZE.human(file.get(FileParameters.SIZE))
              + ", taper "
              + FileParameters.TAPER.human(file.get(FileParameters.TAPER))
              + ")");
    }
  }

  private void below(String section, ParameterValues values, Parameter low, Parameter high) {
    if (!(values.get(low) < values.get(high))) {
      add(
          section + "." + low.key(),
          human(values, low) + " is not below " + high.key() + ", " + human(values, high));
    }
  }

  private void notAbove(
      String section,
      ParameterValues values,
      Parameter value,
      String limitSection,
      ParameterValues limits,
      Parameter limit) {
    if (!(values.get(value) <= limits.get(limit))) {
      add(
          section + "." + value.key(),
          human(values, value)
              + " is above "
              + limitSection
              + "."
              + limit.key()
              + ", "
              + human(limits, limit));
    }
  }

  private static String human(ParameterValues values, Parameter p) {
    return p.human(values.get(p)) + " " + p.unit();
  }

  private void add(String key, String message) {
    faults.add(new Fault(key, key + ": " + message));
  }
}
