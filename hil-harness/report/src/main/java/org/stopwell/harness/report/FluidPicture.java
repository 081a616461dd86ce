package org.stopwell.harness.report;

import java.util.Comparator;
import java.util.Locale;
import java.util.stream.Stream;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.physics.fluid.FillLimit;

/** A longitudinal section of canal, file and fluid as a picture (SVG); the width is exaggerated. */
public final class FluidPicture {
  private static final double WIDTH = 800;
  private static final double HEIGHT = 560;
  private static final double AXIS = 210;
  private static final double HALF = 130;
  private static final double TOP = 60;
  private static final double BOTTOM = HEIGHT - 40;
  private static final double LABELS = 394;
  private static final double LINE = 19;

  private final FillLimit limit;
  private final Bore bore;
  private final Instrument file;
  private final double length;
  private final double remaining;
  private final double chamberDepth;
  private final double chamberRadius;
  private final double perMetre;
  private final double acrossPerMetre;
  private final StringBuilder out = new StringBuilder();
  private double lastLabel = Double.NEGATIVE_INFINITY;

  /**
   * A picture of one canal.
   *
   * @param scene canal, fluid and file
   * @param limit levels of the fluid, m above the foramen
   * @param remaining of the tip short of the foramen, m
   */
  public FluidPicture(Scene scene, FillLimit limit, double remaining) {
    this.limit = limit;
    this.remaining = remaining;
    Canal canal = Canal.of(scene.section("canal"));
    ParameterValues fluid = scene.section("fluid");
    bore = new Bore(canal);
    file = Instrument.of(scene.section("file"));
    length = canal.length();
    chamberDepth = fluid.get(FluidSection.CHAMBER_DEPTH) * 1e-6;
    double area = fluid.get(FluidSection.CHAMBER_AREA) * 1e-9;
    chamberRadius = Math.max(StrictMath.sqrt(area / Math.PI), bore.radius(length));
    double lowest = Math.min(0, remaining) - 1e-3;
    perMetre = (BOTTOM - TOP) / (length + chamberDepth + 1.5e-3 - lowest);
    acrossPerMetre = HALF / chamberRadius;
  }

  /**
   * The picture as a file of its own.
   *
   * @return SVG
   */
  public String svg() {
    out.append(
        String.format(
            Locale.ROOT,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %.0f %.0f\" role=\"img\""
                + " font-family=\"sans-serif\" font-size=\"14\">%n",
            WIDTH,
            HEIGHT));
    out.append("<title>Fluid in the canal before and after the file goes in</title>\n");
    out.append("<desc>").append(description()).append("</desc>\n");
    shape("#ffffff", "M0 0H" + px(WIDTH) + "V" + px(HEIGHT) + "H0z");
    tooth();
    fluid();
    file();
    labels();
    out.append(
        String.format(
            Locale.ROOT,
            "<text x=\"14\" y=\"24\" font-weight=\"bold\">Fluid in the canal (computed; %.0f times"
                + " as wide as long)</text>%n",
            acrossPerMetre / perMetre));
    return out.append("</svg>\n").toString();
  }

  private String description() {
    return String.format(
        Locale.ROOT,
        "The fluid stands %.2f mm above the foramen before the file goes in and %.2f mm with its tip"
            + " at %.2f mm. The chamber stays dry up to %.2f mm beforehand.",
        limit.levelBefore() * 1e3,
        limit.levelAfter() * 1e3,
        remaining * 1e3,
        limit.highestDry() * 1e3);
  }

  private void tooth() {
    double crown = y(length + chamberDepth);
    double wide = chamberRadius * acrossPerMetre + 34;
    shape(
        "#e9dcc3",
        "M"
            + px(AXIS - wide)
            + " "
            + px(crown)
            + "H"
            + px(AXIS + wide)
            + "V"
            + px(y(length) + 30)
            + "L"
            + px(AXIS + 44)
            + " "
            + px(y(0))
            + "H"
            + px(AXIS - 44)
            + "L"
            + px(AXIS - wide)
            + " "
            + px(y(length) + 30)
            + "z");
    shape("#ffffff", hollow(length + chamberDepth));
  }

  private void fluid() {
    double level = Math.min(limit.levelAfter(), length + chamberDepth);
    if (level > 0) {
      shape("#8ec1e8", hollow(level));
    }
  }

  /** The outline of the canal from the foramen up to a height. */
  private String hollow(double height) {
    StringBuilder left = new StringBuilder();
    StringBuilder right = new StringBuilder();
    double top = Math.min(height, length);
    int steps = 60;
    for (int i = 0; i <= steps; i++) {
      double z = top * i / steps;
      double x = bore.radius(z) * acrossPerMetre;
      right.append(i == 0 ? "M" : "L").append(px(AXIS + x)).append(' ').append(px(y(z)));
      left.insert(0, "L" + px(AXIS - x) + " " + px(y(z)));
    }
    if (height > length) {
      double x = chamberRadius * acrossPerMetre;
      right.append("H").append(px(AXIS + x)).append("V").append(px(y(height)));
      right.append("H").append(px(AXIS - x)).append("V").append(px(y(length)));
    }
    return right.append(left).append('z').toString();
  }

  private void file() {
    double tip = file.tipRadius() * acrossPerMetre;
    double end = length + chamberDepth + 1.5e-3;
    double shank = file.radius(end - remaining) * acrossPerMetre;
    shape(
        "#6b6f76",
        "M"
            + px(AXIS - tip)
            + " "
            + px(y(remaining))
            + "H"
            + px(AXIS + tip)
            + "L"
            + px(AXIS + shank)
            + " "
            + px(y(end))
            + "H"
            + px(AXIS - shank)
            + "z");
  }

  private record Mark(double height, String what, String colour) {}

  private void labels() {
    Stream.of(
            new Mark(length, "orifice", "#333333"),
            new Mark(limit.levelAfter(), "level with the file in", "#0b5c96"),
            new Mark(limit.highestDry(), "highest level before, for a dry chamber", "#9a4a00"),
            new Mark(limit.levelBefore(), "level before", "#0b5c96"),
            new Mark(remaining, "tip", "#333333"),
            new Mark(0, "foramen", "#333333"))
        .sorted(Comparator.comparingDouble(Mark::height).reversed())
        .forEach(this::mark);
  }

  /** A line at a height, its label below the one before it. */
  private void mark(Mark mark) {
    double at = y(mark.height);
    double text = Math.max(at + 5, lastLabel + LINE);
    lastLabel = text;
    out.append(
        String.format(
            Locale.ROOT,
            "<path d=\"M%s %sH%sL%s %s\" stroke=\"%s\" fill=\"none\" stroke-dasharray=\"5 3\"/>%n"
                + "<text x=\"%s\" y=\"%s\" fill=\"%s\">%.2f mm %s</text>%n",
            px(AXIS - HALF - 30),
            px(at),
            px(LABELS - 24),
            px(LABELS - 4),
            px(text - 5),
            mark.colour,
            px(LABELS),
            px(text),
            mark.colour,
            mark.height * 1e3,
            mark.what));
  }

  private void shape(String colour, String path) {
    out.append("<path fill=\"").append(colour).append("\" d=\"").append(path).append("\"/>\n");
  }

  private double y(double height) {
    return TOP + (length + chamberDepth + 1.5e-3 - height) * perMetre;
  }

  private static String px(double place) {
    return String.format(Locale.ROOT, "%.1f", place);
  }
}
