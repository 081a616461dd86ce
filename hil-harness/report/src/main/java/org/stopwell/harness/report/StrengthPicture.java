package org.stopwell.harness.report;

import java.util.List;
import java.util.OptionalInt;
import org.stopwell.core.settings.FileStrength;

/** The torque limit of each stage against the strength of the file. */
public final class StrengthPicture {
  private static final double TOP = 22;
  private static final double ROW = 54;

  private StrengthPicture() {}

  /**
   * One stage.
   *
   * @param name its name
   * @param limitMicroNewtonMetres its torque limit, µN·m; empty where what is written is none
   */
  public record Stage(String name, OptionalInt limitMicroNewtonMetres) {}

  /**
   * Draws the picture.
   *
   * @param strength strength of the file
   * @param stages the stages in order, at least one
   * @return SVG as part of a page
   */
  public static String svg(FileStrength strength, List<Stage> stages) {
    double breaks = strength.torqueMicroNewtonMetres() / 1e4;
    double most = breaks;
    for (Stage stage : stages) {
      most = Math.max(most, stage.limitMicroNewtonMetres().orElse(0) / 1e4);
    }
    double bottom = TOP + stages.size() * ROW;
    Axis x = new Axis(0, 1.15 * most, 8, Drawing.RIGHT - 16);
    Drawing d =
        new Drawing(
            "strength",
            bottom + 56,
            "Torque limit of each stage against the strength of the file",
            "The file breaks at " + newton(breaks) + ".");
    double at = x.at(breaks);
    boolean right = breaks > most / 2;
    for (int i = 0; i < stages.size(); i++) {
      bar(d, x, stages.get(i), strength, TOP + i * ROW);
    }
    d.line("foramen", at, TOP, at, bottom);
    d.label(
        "note",
        right ? "end" : "start",
        right ? at - 6 : at + 6,
        TOP - 6,
        "strength of the file, " + newton(breaks));
    for (int i = 0; i < stages.size(); i++) {
      d.label("head", "start", x.from(), TOP + i * ROW + 18, words(stages.get(i), strength));
    }
    d.line("axis", x.from(), bottom, x.to(), bottom);
    d.verticalTicks(x, x.ticks(6), bottom, false);
    d.label("name", "end", x.to(), bottom + 46, "torque limit, N·cm");
    return d.svg();
  }

  private static void bar(Drawing d, Axis x, Stage stage, FileStrength strength, double top) {
    int limit = stage.limitMicroNewtonMetres().orElse(0);
    d.rect(
        strength.marginPercent(limit) < 0 ? "late" : "bar",
        x.from(),
        top + 26,
        x.at(limit / 1e4) - x.from(),
        14);
  }

  private static String words(Stage stage, FileStrength strength) {
    if (stage.limitMicroNewtonMetres().isEmpty()) {
      return stage.name() + ": no valid torque limit";
    }
    int limit = stage.limitMicroNewtonMetres().getAsInt();
    double margin = strength.marginPercent(limit);
    return stage.name()
        + ": "
        + newton(limit / 1e4)
        + ", "
        + Words.decimals(0, Math.abs(margin))
        + (margin < 0 ? " % above the strength: the file breaks first" : " % below the strength");
  }

  private static String newton(double newtonCentimetres) {
    return Words.decimals(2, newtonCentimetres) + " N·cm";
  }
}
