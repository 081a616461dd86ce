package org.stopwell.harness.casework;

import java.math.BigDecimal;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.casework.CanalHistory.Found;
import org.stopwell.harness.casework.CaseEntry.Shaped;
import org.stopwell.harness.plan.Source;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.HandSection;

/**
 * The plan that a step runs, made from the case and its record. Nothing else decides what a step
 * does: {@code run} does the same with the printed plan.
 *
 * @param name name of the plan
 * @param step the step
 * @param canal name of the canal
 * @param text the plan, YAML; its settings file lies beside it
 */
public record StepPlan(String name, CaseStep step, String canal, String text) {
  /** Half width of the band around the target of a step that rests at a depth, µm; assumed. */
  static final int DEPTH_TOLERANCE_MICRONS = 150;

  /** Half width of the band around the standoff, µm; common practice: a length within 0.5 mm. */
  static final int LENGTH_TOLERANCE_MICRONS = 500;

  /** So far past the foramen a file is led on purpose, µm; assumed. */
  private static final int PATENCY_MICRONS = 500;

  /** A file is carried so far above its depth limit before the motor turns, µm; assumed. */
  private static final int DRIVEN_MICRONS = 3_000;

  /** A canal that is open at its end has no constriction and such a foramen, mm; assumed. */
  private static final String OPEN_FORAMEN_MM = "1.2";

  /**
   * The plan of a step.
   *
   * @param tooth the case
   * @param canal one of its canals
   * @param step a step that moves a file
   * @param history what was done in the canal
   * @param lessMicrons the depth limit of shaping stays so far above the length, µm
   * @return the plan
   * @throws StepRefusedException when the settings do not describe the step, or the record has no
   *     length that it may use
   */
  public static StepPlan of(
      ToothCase tooth, CaseCanal canal, CaseStep step, CanalHistory history, int lessMicrons)
      throws StepRefusedException {
    Stage stage =
        step.stage()
            .orElseThrow(
                () -> new StepRefusedException(step.word() + " moves no file and has no plan"));
    if (!canal.has(stage)) {
      throw new StepRefusedException(
          "stages."
              + CaseWords.word(stage)
              + " is not described in "
              + tooth.settings().source().name());
    }
    Writer plan = new Writer(tooth, canal, stage);
    plan.simulated(history);
    switch (step) {
      case OPEN -> plan.open();
      case SHAPE -> plan.shape(history, lessMicrons);
      default -> plan.measure(step);
    }
    String name = "case-" + tooth.tooth() + "-" + canal.name() + "-" + step.word();
    return new StepPlan(name, step, canal.name(), plan.text(name));
  }

  /**
   * The plan that leads the file of the length past the foramen on purpose.
   *
   * @param tooth the case
   * @param canal one of its canals
   * @param history what was done in the canal
   * @return the plan
   * @throws StepRefusedException when the settings do not describe the length
   */
  public static StepPlan patency(ToothCase tooth, CaseCanal canal, CanalHistory history)
      throws StepRefusedException {
    StepPlan measure = of(tooth, canal, CaseStep.MEASURE, history, 0);
    Writer plan = new Writer(tooth, canal, Stage.LENGTH);
    plan.simulated(history);
    plan.patency();
    String name = measure.name + "-patency";
    return new StepPlan(name, CaseStep.MEASURE, canal.name(), plan.text(name));
  }

  /**
   * The plan as a file that lies in the directory of the case.
   *
   * @param directory the directory of the case
   * @return a source that finds its settings file there
   */
  public Source source(Path directory) {
    return new Source(directory.resolve(name + ".yaml").toString(), text);
  }

  /** What the plan of one step states. */
  private static final class Writer {
    private final ToothCase tooth;
    private final CaseCanal canal;
    private final Stage stage;
    private final Map<String, Map<String, String>> scene;
    private final Map<String, Map<String, String>> stages;
    private String purpose = "";
    private String expect = "";
    private int toleranceMicrons;
    private int seconds;

    Writer(ToothCase tooth, CaseCanal canal, Stage stage) {
      this.tooth = tooth;
      this.canal = canal;
      this.stage = stage;
      this.scene = CaseCanal.copy(canal.simulated());
      this.stages = CaseCanal.copy(canal.stages());
    }

    /** The canal that virtual and emulated benches play, as earlier steps have left it. */
    void simulated(CanalHistory history) {
      if (canal.apex() == ApexState.OPEN) {
        put("canal", CanalSection.CONSTRICTION_TYPE.key(), "none");
        put("canal", CanalSection.FORAMEN_DIAMETER.key(), OPEN_FORAMEN_MM);
      }
      section("fluid").put(FluidSection.IRRIGANT.key(), canal.irrigant());
      section("hand").put(HandSection.DEPTH_AXIS.key(), HandSection.PRESENT);
      Optional<Shaped> shaped = history.latest(Shaped.class).map(Found::entry);
      if (shaped.isEmpty()) {
        // What the case states as the loss by straightening begins with the first shaping.
        section("canal").remove(CanalSection.SHORTENED.key());
      }
      shaped.ifPresent(this::shaped);
    }

    /** A shaped canal is wider, and a curved one shorter. */
    private void shaped(Shaped shaped) {
      int depth = shaped.deepestMicrons() - canal.offsetMicrons();
      put("canal", CanalSection.SHAPED_SIZE.key(), Integer.toString(shaped.file().size()));
      put("canal", CanalSection.SHAPED_TAPER.key(), shaped.file().taper());
      put("canal", CanalSection.SHAPED_TO.key(), mm(lengthMicrons() - depth));
    }

    /** Orifice to foramen of the canal that is played. */
    private int lengthMicrons() {
      return new BigDecimal(length()).movePointRight(3).intValue();
    }

    private String length() {
      return section("canal")
          .getOrDefault(
              CanalSection.LENGTH.key(),
              CanalSection.LENGTH.human(CanalSection.LENGTH.defaultValue()));
    }

    void open() {
      int limit = canal.settings().controller().stage(stage).getInt(StageParameters.DEPTH_LIMIT);
      purpose = "Opens the upper parts to the chosen depth, and not deeper.";
      expect = "depth_limit";
      toleranceMicrons = DEPTH_TOLERANCE_MICRONS;
      driven(limit);
    }

    /** The limit is a depth below the orifice; the length counts from the reference point. */
    void shape(CanalHistory history, int lessMicrons) throws StepRefusedException {
      var doubt = history.doubt();
      if (doubt.isPresent()) {
        throw new StepRefusedException(canal.name() + ": " + doubt.get());
      }
      CaseLength length = history.length().orElseThrow();
      int limit = length.lengthMicrons() - length.offsetMicrons() - lessMicrons;
      purpose =
          "Shapes to the recorded length, "
              + mm(length.lengthMicrons())
              + " mm from the reference point, less "
              + mm(lessMicrons)
              + " mm. The apical reaction is off on purpose: the canal is filled to the orifice,"
              + " where no reading is valid.";
      expect = "depth_limit";
      toleranceMicrons = DEPTH_TOLERANCE_MICRONS;
      stageKey(StageParameters.DEPTH_LIMIT.key(), mm(limit));
      stageKey(StageParameters.APICAL.key(), StageParameters.NONE);
      stageKey(StageParameters.ON_DOUBTFUL.key(), StageParameters.NONE);
      stageKey(StageParameters.ON_NONE.key(), StageParameters.NONE);
      driven(limit);
    }

    void measure(CaseStep step) {
      purpose =
          step == CaseStep.MEASURE
              ? "Measures the length: the file is led to the standoff several times."
              : "Measures the length again, with a larger file after shaping.";
      expect = canal.standoffMicrons(stage) < 0 ? "patency" : "stop";
      toleranceMicrons = LENGTH_TOLERANCE_MICRONS;
      seconds = 180;
      put("hand", HandSection.FEED.key(), "2");
      put("hand", HandSection.AFTER_STOP.key(), "repeat");
      put("hand", HandSection.HOLD.key(), "2500");
    }

    void patency() {
      stageKey(StageParameters.STANDOFF.key(), mm(-PATENCY_MICRONS));
      measure(CaseStep.MEASURE);
      purpose = "Leads the file past the foramen on purpose, and back.";
      expect = "patency";
    }

    /** A hand that leads the turning file to its depth in a canal that is filled to the orifice. */
    private void driven(int limitMicrons) {
      section("fluid").put(FluidSection.LEVEL.key(), length());
      seconds = 120;
      put("hand", HandSection.FEED.key(), "0.3");
      put("hand", HandSection.PASSIVE_DEPTH.key(), mm(Math.max(0, limitMicrons - DRIVEN_MICRONS)));
    }

    private void put(String section, String key, String value) {
      section(section).putIfAbsent(key, value);
    }

    private Map<String, String> section(String name) {
      return scene.computeIfAbsent(name, n -> new LinkedHashMap<>());
    }

    private void stageKey(String key, String value) {
      stages
          .computeIfAbsent("stages." + CaseWords.word(stage), n -> new LinkedHashMap<>())
          .put(key, value);
    }

    String text(String name) {
      StringBuilder text = new StringBuilder();
      line(text, "# Made by: stopwell case plan. Save it beside " + tooth.settingsFile() + ".");
      line(text, "# Bench and teaching; not for use on a person.");
      line(text, "plan: 1");
      line(text, "name: " + name);
      line(text, "purpose: >");
      line(text, "  " + purpose);
      line(text, "settings: " + tooth.settingsFile());
      line(text, "stage: " + CaseWords.word(stage));
      line(text, "trials: 1");
      line(text, "tolerance_mm: " + mm(toleranceMicrons));
      line(text, "time_limit_s: " + seconds);
      line(text, "expect: " + expect);
      line(text, "");
      line(text, "# What the bench plays.");
      line(text, "scene:");
      scene.forEach((section, keys) -> line(text, "  " + section + ": " + flow(keys)));
      line(text, "");
      line(text, "factors:");
      line(text, "  canal:");
      line(text, "    " + canal.name() + ":");
      if (!stages.isEmpty()) {
        line(text, "      settings: " + nested(stages));
      }
      return text.toString();
    }

    private static void line(StringBuilder text, String line) {
      text.append(line).append('\n');
    }

    /** Sections such as {@code stages.shape.file} as groups within groups. */
    private static String nested(Map<String, Map<String, String>> sections) {
      Map<String, Object> tree = new LinkedHashMap<>();
      sections.forEach(
          (name, keys) -> {
            Map<String, Object> at = tree;
            for (String part : name.split("\\.", -1)) {
              at = group(at, part);
            }
            at.putAll(keys);
          });
      return flow(tree);
    }

    @SuppressWarnings("unchecked") // only this method puts groups
    private static Map<String, Object> group(Map<String, Object> at, String part) {
      return (Map<String, Object>)
          at.computeIfAbsent(part, p -> new LinkedHashMap<String, Object>());
    }

    private static String flow(Map<String, ?> keys) {
      return keys.entrySet().stream()
          .map(e -> e.getKey() + ": " + value(e.getValue()))
          .collect(Collectors.joining(", ", "{", "}"));
    }

    private static String value(Object value) {
      if (value instanceof Map<?, ?> map) {
        Map<String, Object> keys = new LinkedHashMap<>();
        map.forEach((k, v) -> keys.put(String.valueOf(k), v));
        return flow(keys);
      }
      return String.valueOf(value);
    }

    private static String mm(int microns) {
      return BigDecimal.valueOf(microns, 3).stripTrailingZeros().toPlainString();
    }
  }
}
