package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.physics.fluid.FillLimit;

/** The same section as {@link FluidPicture} as text for a terminal, one row per millimetre. */
public final class FluidDrawing {
  private static final int HALF = 12;
  private static final char TOOTH = '.';
  private static final char FLUID = '~';
  private static final char FILE = '#';

  private final FlatLevel level;
  private final FillLimit limit;
  private final Bore bore;
  private final Instrument file;
  private final double lengthMm;
  private final double remainingMm;
  private final double chamberMm;
  private final double chamberRadius;

  /**
   * A picture of one canal.
   *
   * @param scene canal, fluid and file
   * @param level levels of the fluid
   * @param remaining of the tip short of the foramen, m
   */
  public FluidDrawing(Scene scene, FlatLevel level, double remaining) {
    this.level = level;
    limit = level.limit();
    remainingMm = remaining * 1e3;
    Canal canal = Canal.of(scene.section("canal"));
    file = Instrument.of(scene.section("file"));
    bore = FillLimit.cut(canal, file, remaining);
    lengthMm = canal.length() * 1e3;
    chamberMm = scene.section("fluid").get(FluidSection.CHAMBER_DEPTH) * 1e-3;
    double area = scene.section("fluid").get(FluidSection.CHAMBER_AREA) * 1e-9;
    chamberRadius = Math.max(StrictMath.sqrt(area / Math.PI), bore.radius(canal.length()));
  }

  /**
   * One line of text per row, from the top of the chamber down to the foramen.
   *
   * @return the rows
   */
  public List<String> rows() {
    List<String> rows = new ArrayList<>();
    for (int mm = (int) Math.ceil(lengthMm + chamberMm) - 1; mm >= 0; mm--) {
      StringBuilder row = new StringBuilder(String.format(Locale.ROOT, "%4d |", mm));
      for (int column = -HALF; column <= HALF; column++) {
        row.append(letter(Math.abs(column) * chamberRadius / HALF, mm + 0.5));
      }
      rows.add(row.append("|  ").append(marks(mm)).toString().stripTrailing());
    }
    return rows;
  }

  /**
   * What the drawing shows.
   *
   * @return one line
   */
  public static String legend() {
    return "mm above the foramen; "
        + FILE
        + " file, "
        + FLUID
        + " fluid, "
        + TOOTH
        + " tooth; flat-level estimate; not to scale across";
  }

  private char letter(double radius, double heightMm) {
    double z = heightMm * 1e-3;
    boolean chamber = heightMm > lengthMm;
    if (radius > (chamber ? chamberRadius * (1 + 1e-9) : bore.radius(z))) {
      return TOOTH;
    }
    if (heightMm > remainingMm && radius <= file.radius(z - remainingMm * 1e-3)) {
      return FILE;
    }
    return z < limit.levelAfter() ? FLUID : ' ';
  }

  private String marks(int mm) {
    List<String> here = new ArrayList<>();
    mark(here, mm, limit.levelAfter() * 1e3, level.levelAfter(), "level with the file in");
    mark(here, mm, lengthMm, "orifice");
    mark(
        here,
        mm,
        limit.highestDry() * 1e3,
        level.highestDry(),
        "highest level before insertion for a dry chamber");
    mark(here, mm, limit.levelBefore() * 1e3, "level before");
    mark(here, mm, remainingMm, "tip");
    return String.join("; ", here);
  }

  private static void mark(List<String> here, int mm, double at, String what) {
    mark(here, mm, at, String.format(Locale.ROOT, "%.2f mm", at), what);
  }

  private static void mark(List<String> here, int mm, double at, String value, String what) {
    if (Math.floor(at + 1e-6) == mm) {
      here.add(value + " " + what);
    }
  }
}
