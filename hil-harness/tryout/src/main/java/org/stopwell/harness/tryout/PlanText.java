package org.stopwell.harness.tryout;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;

/** The plan of a scene: the same canal, fluid and file, under the hand of the bench. */
final class PlanText {
  /** The hand carries the file down to so much above the foramen before the motor turns, µm. */
  private static final long APICAL_THIRD = 3_000;

  private PlanText() {}

  static String of(
      Scene scene, SceneText text, List<ControllerSettings> settings, long levelMicrons) {
    StringBuilder out = new StringBuilder();
    out.append(
        """
        # yaml-language-server: $schema=../schema/plan.schema.json
        # Save this file in docs/plans and run it: ./stopwell run docs/plans/by-hand.yaml
        plan: 1
        name: by-hand
        purpose: >
          A scene of the page to try by hand. The hand of the bench feeds the file in place of a person.
        settings: ../settings/length.yaml
        """);
    line(out, "stage", word(Stage.LENGTH));
    line(out, "seed", Long.toString(text.get(SceneText.SEED)));
    line(out, "trials", "10");
    line(out, "tolerance_mm", "0.5");
    line(out, "time_limit_s", "180");
    out.append("\nscene:\n");
    for (String section : Scene.tables().keySet()) {
      String values = section(scene, section, levelMicrons);
      if (!values.isEmpty()) {
        line(out, "  " + section, "{" + values + "}");
      }
    }
    out.append("\nfactors:\n  reading:\n");
    for (int i = 0; i < TryMachine.LANES; i++) {
      if (i == 0 || !text.reading(i).equals(text.reading(0))) {
        reading(out, text.reading(i));
      }
    }
    out.append("  controller:\n    of the page:\n");
    if (text.stage() != Stage.LENGTH) {
      // the settings file describes the length stage alone
      line(out, "      stage", word(text.stage()));
    }
    out.append("      settings:\n");
    file(out, settings.get(0), text.stage());
    stage(out, settings.get(0), text.stage());
    return out.toString();
  }

  private static String word(Stage stage) {
    return stage.name().toLowerCase(Locale.ROOT);
  }

  private static void line(StringBuilder out, String key, String value) {
    out.append(key).append(": ").append(value).append('\n');
  }

  private static void reading(StringBuilder out, String reading) {
    boolean ratio = reading.equals(LaneSettings.RATIO);
    out.append("    ").append(ratio ? "two-frequency" : "estimate").append(":\n");
    line(out, "      expect", "stop_or_refuse");
    if (ratio) {
      line(out, "      settings", "../settings/ratio.yaml");
    }
  }

  private static void file(StringBuilder out, ControllerSettings settings, Stage stage) {
    line(out, "        file", "{" + given(settings.file(stage), List.of()) + "}");
  }

  private static void stage(StringBuilder out, ControllerSettings settings, Stage stage) {
    String keys = given(settings.stage(stage), List.of());
    line(out, "        stages", "{" + word(stage) + ": {" + keys + "}}");
  }

  /** What was written or drawn; the measuring frequencies follow the settings of each reading. */
  private static String section(Scene scene, String name, long levelMicrons) {
    ParameterValues values = scene.section(name);
    return switch (name) {
      case "fluid" ->
          join(
              given(values, List.of(FluidSection.LEVEL)),
              FluidSection.LEVEL.key() + ": " + FluidSection.LEVEL.human(levelMicrons));
      case "front_end" -> given(values, FrontEndSection.FREQUENCIES);
      case "hand" -> hand(values, Canal.lengthMicrons(scene.section("canal")));
      default -> given(values, List.of());
    };
  }

  private static String hand(ParameterValues values, long length) {
    String passive =
        values.isGiven(HandSection.PASSIVE_DEPTH)
            ? ""
            : HandSection.PASSIVE_DEPTH.key()
                + ": "
                + HandSection.PASSIVE_DEPTH.human(Math.max(0, length - APICAL_THIRD));
    return join(given(values, List.of()), passive);
  }

  private static String join(String one, String other) {
    return one.isEmpty() ? other : other.isEmpty() ? one : one + ", " + other;
  }

  private static String given(ParameterValues values, List<Parameter> without) {
    return values.table().parameters().stream()
        .filter(p -> values.isGiven(p) && !without.contains(p))
        .map(p -> Map.entry(p.key(), p.human(values.get(p))))
        .map(e -> e.getKey() + ": " + e.getValue())
        .collect(Collectors.joining(", "));
  }
}
