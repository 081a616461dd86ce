package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.report.FluidDrawing;
import org.stopwell.harness.report.FluidPicture;
import org.stopwell.harness.report.TextTable;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Irrigant;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.fluid.FillLimit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** How full the canal may be. */
@Command(
    name = "fluid",
    description = {
      "Computes the fluid level at which the inserted file floods the chamber, by"
          + " displacement (Archimedes). The canal is a frustum, the file a frustum and a shaft. The model ignores"
          + " capillarity, the film on the file and fluid that leaves through the foramen.",
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
    FillLimit limit = limit(scene, remainingMm);
    print(out, "canal, %.2f mm long, holds %.3f mm³", lengthMm, limit.canalVolume() * 1e9);
    print(
        out,
        "file, tip %.2f mm short of the foramen, displaces %.3f mm³",
        remainingMm,
        limit.fileVolume() * 1e9);
    print(
        out,
        "the chamber stays dry if the level before insertion is at most %.2f mm above the"
            + " foramen",
        limit.highestDry() * 1e3);
    print(
        out,
        "at %.2f mm it rises to %.2f mm: %s",
        limit.levelBefore() * 1e3,
        limit.levelAfter() * 1e3,
        limit.chamberStaysDry()
            ? "the chamber stays dry"
            : String.format(
                Locale.ROOT,
                "the chamber is wet; remove %.3f mm³%s",
                limit.toRemove() * 1e9,
                limit.runsOver() > 0
                    ? String.format(Locale.ROOT, ", %.3f mm³ overflows", limit.runsOver() * 1e9)
                    : ""));
    print(out, "%s", fluid(scene.section("fluid")));
    out.println();
    FluidDrawing drawing = new FluidDrawing(scene, limit, remainingMm * 1e-3);
    drawing.rows().forEach(out::println);
    out.println(FluidDrawing.legend());
    out.println();
    TextTable table = new TextTable("rrrr");
    table.row("tip short of the foramen", "level", "highest level for a dry chamber", "remove");
    for (double mm : new double[] {8, 5, 3, 2, 1, 0.5, 0}) {
      if (mm < lengthMm) {
        FillLimit at = limit(scene, mm);
        table.row(
            text("%.1f mm", mm),
            text("%.2f mm", at.levelAfter() * 1e3),
            text("%.2f mm", at.highestDry() * 1e3),
            text("%.2f mm³", at.toRemove() * 1e9));
      }
    }
    table.print(out::println);
    if (svg != null) {
      Files.writeString(svg, new FluidPicture(scene, limit, remainingMm * 1e-3).svg());
      print(out, "%nThe picture is in %s.", svg);
    }
    return 0;
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

  private static FillLimit limit(Scene scene, double remainingMm) {
    return FillLimit.of(
        scene.section("canal"), scene.section("fluid"), scene.section("file"), remainingMm * 1e-3);
  }

  private static void print(PrintWriter out, String format, Object... args) {
    out.println(text(format, args));
  }

  private static String text(String format, Object... args) {
    return String.format(Locale.ROOT, format, args);
  }
}
