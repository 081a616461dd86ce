package org.stopwell.harness.tryout;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.rig.bench.Scene;

/**
 * The text of a scene: {@code key=value} pairs with {@code &} between them, in any order.
 *
 * <pre>{@code
 * canal.length_mm=16&fluid.level_mm=8&file.size=15&file.taper=0.04&stage=length&speed_rpm=300
 * }</pre>
 *
 * <p>Keys with a dot are the keys of the scene of a plan: {@code canal.}, {@code fluid.}, {@code
 * file.}, {@code hand.}, {@code motor.} and {@code front_end.}. The other keys are those of {@link
 * #TABLE} and those of a stage in the settings, such as {@code speed_rpm}. A key that is absent has
 * its default; the fluid stands in half of the canal then.
 */
final class SceneText {
  /** The reading of the lane on the left. */
  static final Parameter LANE_0 = lane(0, LaneSettings.RATIO, LaneSettings.APPROACH);

  /** The reading of the lane on the right. */
  static final Parameter LANE_1 = lane(1, LaneSettings.APPROACH, LaneSettings.RATIO);

  /** The stage of work. */
  static final Parameter STAGE =
      Parameter.of("stage")
          .choice(
              Stream.concat(
                      Stream.of(word(Stage.LENGTH)),
                      Stream.of(Stage.values()).filter(s -> s != Stage.LENGTH).map(SceneText::word))
                  .toList())
          .text("Stage of work.")
          .source("design choice");

  /** Seed of everything random in the scene. */
  static final Parameter SEED =
      Parameter.of("seed")
          .range("0", "4294967295")
          .initially("1")
          .text("Seed of noise and tremor.")
          .source("design choice");

  /** A canal of the population in place of the plain one. */
  static final Parameter DRAW =
      Parameter.of("draw")
          .range("0", "999999")
          .text("Number of a canal drawn from the population; 0: not drawn.")
          .source("design choice");

  /** Keys without a dot that are not those of a stage. */
  static final ParameterTable TABLE =
      new ParameterTable(List.of(LANE_0, LANE_1, STAGE, SEED, DRAW));

  /** A longer text is refused, characters: a browser keeps at least so much of an address. */
  private static final int LONGEST = 8000;

  private final Map<String, String> page = new LinkedHashMap<>();
  private final Map<String, String> stage = new LinkedHashMap<>();
  private final Map<String, Map<String, String>> scene = new LinkedHashMap<>();
  private final List<Fault> faults = new ArrayList<>();
  private final ParameterValues values;

  /**
   * Reads a text.
   *
   * @param text the pairs; may be empty
   * @throws SettingsException with every pair that is not one, and every unknown key
   */
  SceneText(String text) throws SettingsException {
    if (text.length() > LONGEST) {
      throw new SettingsException(
          List.of(
              new Fault(
                  "scene",
                  "scene: " + text.length() + " characters, above the limit of " + LONGEST)));
    }
    for (String pair : text.split("&", -1)) {
      if (!pair.isEmpty()) {
        take(pair);
      }
    }
    values = TABLE.resolve(page, faults);
    if (!faults.isEmpty()) {
      throw new SettingsException(faults);
    }
  }

  private static Parameter lane(int index, String... words) {
    return Parameter.of("lane." + index)
        .choice(words)
        .text("How lane " + index + " reads the distance.")
        .source("design choice");
  }

  private static String word(Stage stage) {
    return stage.name().toLowerCase(Locale.ROOT);
  }

  private void take(String pair) {
    int equals = pair.indexOf('=');
    String key = equals < 0 ? pair : pair.substring(0, equals);
    String value = pair.substring(equals + 1);
    int dot = key.indexOf('.');
    Map<String, String> into;
    String name = key;
    if (equals <= 0) {
      faults.add(new Fault(key, "\"" + pair + "\" is not a pair key=value"));
      return;
    } else if (has(TABLE, key)) {
      into = page;
    } else if (has(StageParameters.TABLE, key)) {
      into = stage;
    } else if (dot > 0 && Scene.tables().containsKey(key.substring(0, dot))) {
      into = scene.computeIfAbsent(key.substring(0, dot), s -> new LinkedHashMap<>());
      name = key.substring(dot + 1);
    } else {
      faults.add(new Fault(key, key + ": unknown key"));
      return;
    }
    if (into.putIfAbsent(name, value) != null) {
      faults.add(new Fault(key, key + ": given twice"));
    }
  }

  private static boolean has(ParameterTable table, String key) {
    return table.parameters().stream().anyMatch(p -> p.key().equals(key));
  }

  /** The stage of work. */
  Stage stage() {
    String word = values.choice(STAGE);
    return Stream.of(Stage.values()).filter(s -> word(s).equals(word)).findFirst().orElseThrow();
  }

  /** The reading of a lane: a word of {@link LaneSettings}. */
  String reading(int lane) {
    return values.choice(lane == 0 ? LANE_0 : LANE_1);
  }

  /** A number of {@link #TABLE}. */
  long get(Parameter parameter) {
    return values.get(parameter);
  }

  /** What was written for the stage, by key. */
  Map<String, String> stageKeys() {
    return stage;
  }

  /** What was written for a section of the scene, by key. */
  Map<String, String> section(String name) {
    return scene.getOrDefault(name, Map.of());
  }
}
