package org.stopwell.harness.plan;

import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.PolicyTables;

/** The reference of every key of plans and settings, made from the tables that check them. */
public final class ReferencePage {
  private final StringBuilder page = new StringBuilder();

  private ReferencePage() {}

  /**
   * The tables of all keys, as they stand in {@code docs/plan-reference.md}.
   *
   * @return Markdown
   */
  public static String tables() {
    ReferencePage page = new ReferencePage();
    page.heading("Keys of a plan");
    page.table("at the top", PlanTables.HEAD);
    page.table("a level of a factor, beside its parts of scene and settings", PlanTables.LEVEL);
    PlanTables.CLAIMS.forEach((endpoint, table) -> page.table("`claims." + endpoint + "`", table));
    page.table(
        "`analysis`, beside `groups`, a list of factors whose levels are a sample of many",
        PlanTables.ANALYSIS);
    page.table(
        "an item of `teeth`, beside the texts `name` and `medium` and the group `zero_readings_um`",
        TeethReader.TABLE);
    page.table(
        "`device`, with `controller: external`, beside the codes "
            + DeviceReader.TEXTS.keySet().stream()
                .map(key -> "`" + key + "`")
                .collect(Collectors.joining(", ")),
        DeviceReader.TABLE);
    page.table(
        "`mount`, at the top or in a level, with `teeth` or `controller: external`",
        MountReader.TABLE);
    page.table("an item of `faults`, at the top or in a level", FaultReader.TABLE);
    ProtocolTables.TABLES.forEach((name, table) -> page.table("`" + name + "`", table));
    page.heading("Keys of a scene");
    PlanTables.SCENE.forEach((name, table) -> page.table("`" + name + "`", table));
    page.heading("Keys of settings");
    page.table("at the top", Settings.HEAD);
    Map<String, ParameterTable> settings = ControllerSettings.tables();
    settings.forEach(
        (name, table) -> {
          if (!name.startsWith("stages.")) {
            page.table("`" + name + "`", table);
          }
          if (name.equals("sense")) {
            page.sensing();
          }
        });
    page.table(
        "`stages.open`, `stages.length`, `stages.shape`, `stages.recheck`",
        java.util.Objects.requireNonNull(settings.get("stages.length")));
    page.table(
        "`stages.open.file`, `stages.length.file`, `stages.shape.file`, `stages.recheck.file`; a key"
            + " with a default, left out, is that of `file`",
        java.util.Objects.requireNonNull(settings.get("stages.length.file")));
    page.table("a point of `calibration`, with `policy: ratio`", Settings.RATIO_POINT);
    page.table("a point of `calibration`, with `policy: resistance`", Settings.RESISTANCE_POINT);
    return page.page.toString();
  }

  /** Which sensing policy reads which keys. */
  private void sensing() {
    page.append("\nA key of `sense` that the policy does not read is refused.\n\n")
        .append("| policy | signal | keys that not every policy reads |\n|---|---|---|\n");
    PolicyTables.BUILT_IN
        .sensing()
        .forEach(
            (name, needs) ->
                page.append("| `")
                    .append(name)
                    .append("` | ")
                    .append(needs.signal() == PositionKind.DISTANCE ? "distance" : "impedance")
                    .append(" | ")
                    .append(
                        needs.keys().stream()
                            .map(p -> "`" + p.key() + "`")
                            .collect(Collectors.joining(", ")))
                    .append(" |\n"));
  }

  private void heading(String text) {
    page.append("\n## ").append(text).append("\n");
  }

  private void table(String title, ParameterTable table) {
    page.append("\n### ")
        .append(title.substring(0, 1).toUpperCase(Locale.ROOT))
        .append(title.substring(1))
        .append("\n\n| key | values | default | meaning | source of the default |\n")
        .append("|---|---|---|---|---|\n");
    for (Parameter p : table.parameters()) {
      String unit = p.unit().isEmpty() ? "" : " " + p.unit();
      page.append("| `")
          .append(p.key())
          .append("` | ")
          .append(
              switch (p.kind()) {
                case NUMBER -> p.human(p.min()) + " to " + p.human(p.max()) + unit;
                case CHOICE -> String.join(", ", p.choices());
                case FLAG -> "true, false";
                case FILE -> "name of a file";
              })
          .append(" | ")
          .append(p.required() ? "required" : p.human(p.defaultValue()) + unit)
          .append(" | ")
          .append(cell(p.text()))
          .append(" | ")
          .append(cell(p.source()))
          .append(" |\n");
    }
  }

  private static String cell(String text) {
    return text.replace("|", "\\|");
  }
}
