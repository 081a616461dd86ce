package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.report.FlatLevel;
import org.stopwell.harness.report.FluidDrawing;
import org.stopwell.harness.report.FluidPicture;
import org.stopwell.harness.report.TextTable;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Irrigant;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.fluid.FillLimit;
import org.stopwell.rig.physics.fluid.LevelUncertainty;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** How full the canal may be. */
@Command(
    name = "fluid",
    description = {
      "Estimates the fluid level at which the inserted file floods the chamber, by displacement"
          + " (Archimedes) with a flat surface, in the canal as the file has cut it. Every level has an"
          + " uncertainty: fluid in the flutes, section of the metal, chips, an air bubble, films, the"
          + " meniscus. The model ignores fluid that leaves through the foramen.",
      "Give canal, fluid and file as in a plan: section.key=value, see" + " docs/plan-reference.md."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell fluid",
      "  stopwell fluid fluid.level_mm=15 fluid.irrigant=sodium_hypochlorite_2.5 --svg canal.svg",
      "  stopwell fluid canal.length_mm=21 canal.taper=0.04 file.size=25 file.taper=0.06"
          + " fluid.level_mm=14"
    },
    mixinStandardHelpOptions = true)
final class FluidCommand extends StopwellCommand {
  @Mixin SceneValues values = new SceneValues();

  @Option(
      names = "--remaining-mm",
      paramLabel = "MM",
      description = "End position of the tip, mm short of the foramen. Default: ${DEFAULT-VALUE}.",
      defaultValue = "0.5")
  double remainingMm = 0.5;

  @Option(
      names = "--svg",
      paramLabel = "FILE",
      description = "Also write a picture of canal, file and fluid to this file.")
  @Nullable Path svg;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    Scene scene = values.scene();
    double lengthMm = Canal.lengthMicrons(scene.section("canal")) / 1e3;
    if (!(remainingMm >= -2 && remainingMm <= lengthMm)) {
      throw new UsageException(
          "--remaining-mm " + remainingMm + " mm is outside -2 to " + lengthMm + " mm");
    }
    FlatLevel flat = FlatLevel.of(scene, remainingMm * 1e-3);
    FillLimit limit = flat.limit();
    print(out, "flat-level estimate; the canal is as this file has cut it");
    print(out, "canal, %.2f mm long, holds %.1f mm³", lengthMm, limit.canalVolume() * 1e9);
    print(
        out,
        "file, tip %.2f mm short of the foramen, displaces %.1f mm³",
        remainingMm,
        limit.fileVolume() * 1e9);
    print(
        out,
        "the chamber stays dry if the level before insertion is at most %s above the foramen",
        flat.highestDry());
    print(
        out,
        "at %.2f mm it rises to %s: %s",
        limit.levelBefore() * 1e3,
        flat.levelAfter(),
        verdict(flat));
    print(out, "%s", fluid(scene.section("fluid")));
    out.println();
    FluidDrawing drawing = new FluidDrawing(scene, flat, remainingMm * 1e-3);
    drawing.rows().forEach(out::println);
    out.println(FluidDrawing.legend());
    out.println();
    table(scene, lengthMm).print(out::println);
    out.println();
    budget(out, flat);
    if (svg != null) {
      Files.writeString(svg, new FluidPicture(scene, flat, remainingMm * 1e-3).svg());
      print(out, "%nThe picture is in %s.", svg);
    }
    return 0;
  }

  private static String verdict(FlatLevel flat) {
    FillLimit limit = flat.limit();
    String decides = flat.undecided() ? " by the flat level, which does not decide it" : "";
    if (limit.chamberStaysDry()) {
      return "the chamber stays dry" + decides;
    }
    String over = limit.runsOver() > 0 ? text("; %.1f mm³ overflows", limit.runsOver() * 1e9) : "";
    return "the chamber is wet" + decides + "; remove " + flat.toRemove() + over;
  }

  private static TextTable table(Scene scene, double lengthMm) {
    TextTable table = new TextTable("rrrr");
    table.row("tip short of the foramen", "level", "highest level for a dry chamber", "remove");
    for (double mm : new double[] {8, 5, 3, 2, 1, 0.5, 0}) {
      if (mm < lengthMm) {
        FlatLevel at = FlatLevel.of(scene, mm * 1e-3);
        table.row(text("%.1f mm", mm), at.levelAfter(), at.highestDry(), at.toRemove());
      }
    }
    return table;
  }

  /** What the flat level leaves out. */
  private static void budget(PrintWriter out, FlatLevel flat) {
    LevelUncertainty after = flat.after();
    out.println("What a flat level leaves out, with the file in:");
    TextTable table = new TextTable("lrr");
    table.row("part", "limit, volume", "limit, level");
    for (LevelUncertainty.Part part : after.parts()) {
      table.row(
          part.what(),
          part.volume() > 0 ? text("± %.2f mm³", part.volume() * 1e9) : "",
          text("± %.1f mm", part.height() * 1e3));
    }
    table.print(out::println);
    out.println(
        "± of a level: twice the root of the sum of squares of the limits over √3 (JCGM 100, k = 2).");
    print(
        out,
        "Bond number ρgr²/σ %.2g at the level, radius %.2f mm: surface tension decides where the"
            + " fluid stands. A plug up to %.0f mm long can hang with air below it; no ± covers"
            + " that.",
        after.bond(),
        after.radius() * 1e3,
        after.hangs() * 1e3);
  }

  /** The fluid in the canal and its conductivity, which affects the reading and not the level. */
  private static String fluid(ParameterValues fluid) {
    Irrigant irrigant = FluidSection.irrigant(fluid);
    String conducts =
        String.format(Locale.ROOT, "%.3g S/m at 25 °C", FluidSection.siemensPerMetreAt25(fluid));
    return irrigant == Irrigant.UNNAMED
        ? "the fluid conducts " + conducts
        : irrigant.key() + " conducts " + conducts + " (" + irrigant.source() + ")";
  }

  private static void print(PrintWriter out, String format, Object... args) {
    out.println(text(format, args));
  }

  private static String text(String format, Object... args) {
    return String.format(Locale.ROOT, format, args);
  }
}
