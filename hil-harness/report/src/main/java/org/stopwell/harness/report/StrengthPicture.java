package org.stopwell.harness.report;

import java.util.List;
import java.util.OptionalInt;
import org.stopwell.core.settings.FileStrength;

/** The torque limit of each stage against the strength of its file. */
public final class StrengthPicture {
  private static final double TOP = 22;
  private static final double ROW = 54;

  private StrengthPicture() {}

  /**
   * One stage.
   *
   * @param name its name
   * @param limitMicroNewtonMetres its torque limit, µN·m; empty where what is written is none
   * @param file words for its file; empty where all stages have the same
   * @param strength strength of its file
   */
  public record Stage(
      String name, OptionalInt limitMicroNewtonMetres, String file, FileStrength strength) {
    private double breaks() {
      return strength.torqueMicroNewtonMetres() / 1e4;
    }
  }

  /**
   * Draws the picture.
   *
   * @param stages the stages in order, at least one
   * @return SVG as part of a page
   */
  public static String svg(List<Stage> stages) {
    double most = 0;
    double weakest = Double.MAX_VALUE;
    for (Stage stage : stages) {
      weakest = Math.min(weakest, stage.breaks());
      most = Math.max(most, stage.breaks());
      most = Math.max(most, stage.limitMicroNewtonMetres().orElse(0) / 1e4);
    }
    boolean one = stages.stream().allMatch(s -> s.file().isEmpty());
    double bottom = TOP + stages.size() * ROW;
    Axis x = new Axis(0, 1.15 * most, 8, Drawing.RIGHT - 16);
    Drawing d =
        new Drawing(
            "strength",
            bottom + 56,
            "Torque limit of each stage against the strength of " + (one ? "the file" : "its file"),
            (one ? "The file breaks at " : "The weakest file breaks at ") + newton(weakest) + ".");
    for (int i = 0; i < stages.size(); i++) {
      bar(d, x, stages.get(i), TOP + i * ROW);
    }
    for (int i = 0; i < stages.size(); i++) {
      double at = x.at(stages.get(i).breaks());
      d.line("foramen", at, TOP + i * ROW, at, TOP + (i + 1) * ROW);
    }
    double at = x.at(stages.get(0).breaks());
    boolean right = stages.get(0).breaks() > most / 2;
    d.label(
        "note",
        right ? "end" : "start",
        right ? at - 6 : at + 6,
        TOP - 6,
        one ? "strength of the file, " + newton(weakest) : "strength of the file of the stage");
    for (int i = 0; i < stages.size(); i++) {
      d.label("head", "start", x.from(), TOP + i * ROW + 18, words(stages.get(i)));
    }
    d.line("axis", x.from(), bottom, x.to(), bottom);
    d.verticalTicks(x, x.ticks(6), bottom, false);
    d.label("name", "end", x.to(), bottom + 46, "torque limit, N·cm");
    return d.svg();
  }

  private static void bar(Drawing d, Axis x, Stage stage, double top) {
    int limit = stage.limitMicroNewtonMetres().orElse(0);
    d.rect(
        stage.strength().marginPercent(limit) < 0 ? "late" : "bar",
        x.from(),
        top + 26,
        x.at(limit / 1e4) - x.from(),
        14);
  }

  private static String words(Stage stage) {
    if (stage.limitMicroNewtonMetres().isEmpty()) {
      return stage.name() + ": no valid torque limit";
    }
    int limit = stage.limitMicroNewtonMetres().getAsInt();
    double margin = stage.strength().marginPercent(limit);
    return stage.name()
        + (stage.file().isEmpty() ? ": " : ", " + stage.file() + ": ")
        + newton(limit / 1e4)
        + ", "
        + Words.decimals(0, Math.abs(margin))
        + (margin < 0 ? " % above the strength: the file breaks first" : " % below the strength");
  }

  private static String newton(double newtonCentimetres) {
    return Words.decimals(2, newtonCentimetres) + " N·cm";
  }
}
