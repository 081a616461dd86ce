package org.stopwell.harness.report;

import static org.stopwell.harness.report.Axis.px;

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

  private final FlatLevel flat;
  private final FillLimit limit;
  private final Bore bore;
  private final Instrument file;
  private final double length;
  private final double remaining;
  private final double chamberDepth;
  private final double chamberRadius;
  private final double perMetre;
  private final double acrossPerMetre;
  private double lastLabel = Double.NEGATIVE_INFINITY;

  /**
   * A picture of one canal.
   *
   * @param scene canal, fluid and file
   * @param flat levels of the fluid
   * @param remaining of the tip short of the foramen, m
   */
  public FluidPicture(Scene scene, FlatLevel flat, double remaining) {
    this.flat = flat;
    limit = flat.limit();
    this.remaining = remaining;
    Canal canal = Canal.of(scene.section("canal"));
    ParameterValues fluid = scene.section("fluid");
    file = Instrument.of(scene.section("file"));
    bore = FillLimit.cut(canal, file, remaining);
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
    Drawing d =
        new Drawing(
            "fluid",
            WIDTH,
            HEIGHT,
            "Fluid in the canal before and after the file goes in",
            description());
    tooth(d);
    double level = Math.min(limit.levelAfter(), length + chamberDepth);
    if (level > 0) {
      d.path("fluid", hollow(level));
    }
    file(d);
    labels(d);
    d.label(
        "head",
        "start",
        14,
        24,
        String.format(
            Locale.ROOT,
            "Fluid in the canal (flat-level estimate; %.0f times as wide as long)",
            acrossPerMetre / perMetre));
    return d.file();
  }

  private String description() {
    return String.format(
        Locale.ROOT,
        "Flat-level estimate. The fluid stands %.2f mm above the foramen before the file goes in"
            + " and %s with its tip at %.2f mm. The chamber stays dry up to %s beforehand.",
        limit.levelBefore() * 1e3,
        flat.levelAfter(),
        remaining * 1e3,
        flat.highestDry());
  }

  private void tooth(Drawing d) {
    double crown = y(length + chamberDepth);
    double wide = chamberRadius * acrossPerMetre + 34;
    d.path(
        "tooth",
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
    d.path("hollow", hollow(length + chamberDepth));
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

  private void file(Drawing d) {
    double tip = file.tipRadius() * acrossPerMetre;
    double end = length + chamberDepth + 1.5e-3;
    double shaft = file.radius(end - remaining) * acrossPerMetre;
    double shaftY = y(Math.min(end, remaining + file.cuttingLength()));
    d.path(
        "file",
        "M"
            + px(AXIS - tip)
            + " "
            + px(y(remaining))
            + "H"
            + px(AXIS + tip)
            + "L"
            + px(AXIS + shaft)
            + " "
            + px(shaftY)
            + "V"
            + px(y(end))
            + "H"
            + px(AXIS - shaft)
            + "V"
            + px(shaftY)
            + "z");
  }

  private record Mark(double height, String value, String what, String style) {
    Mark(double height, String what, String style) {
      this(height, String.format(Locale.ROOT, "%.2f mm", height * 1e3), what, style);
    }
  }

  private void labels(Drawing d) {
    Stream.of(
            new Mark(length, "orifice", "tip"),
            new Mark(limit.levelAfter(), flat.levelAfter(), "level with the file in", "wet"),
            new Mark(
                limit.highestDry(),
                flat.highestDry(),
                "highest level before, for a dry chamber",
                "dry"),
            new Mark(limit.levelBefore(), "level before", "wet"),
            new Mark(remaining, "tip", "tip"),
            new Mark(0, "foramen", "tip"))
        .sorted(Comparator.comparingDouble(Mark::height).reversed())
        .forEach(m -> mark(d, m));
  }

  /** A line at a height, its label below the one before it. */
  private void mark(Drawing d, Mark mark) {
    double at = y(mark.height);
    double text = Math.max(at + 5, lastLabel + LINE);
    lastLabel = text;
    d.path(
        mark.style + " level",
        "M"
            + px(AXIS - HALF - 30)
            + " "
            + px(at)
            + "H"
            + px(LABELS - 24)
            + "L"
            + px(LABELS - 4)
            + " "
            + px(text - 5));
    d.label(mark.style, "start", LABELS, text, mark.value + " " + mark.what);
  }

  private double y(double height) {
    return TOP + (length + chamberDepth + 1.5e-3 - height) * perMetre;
  }
}
