package org.stopwell.harness.lies;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.report.Drawing;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.file.Instrument;

/**
 * A tooth in section with its fluid, its file at rest and the way of the current. Widths are three
 * times as large as heights.
 */
final class ToothSection {
  private static final double AXIS = 144;
  private static final double TOP = 78;
  private static final double PER_MM = 16.5;
  private static final double ACROSS = 3 * PER_MM;

  /** Heights of what the scene does not state, mm: they are drawn only. */
  private static final double ROOT_WALL = 0.85;

  private static final double GUM_BELOW_ORIFICE = 1.2;
  private static final double HANDLE = 2.2;
  private static final double CLIP_X = 268;

  private final Drawing d;
  private final Lie lie;
  private final ParameterValues canalValues;
  private final ParameterValues fluid;
  private final double clipOhms;
  private final Canal canal;
  private final Bore bore;
  private final Instrument file;
  private final double length;
  private final double depth;
  private final double chamber;
  private final double tip;
  private final double level;

  ToothSection(Drawing d, Lie lie, Scene scene, double tipMm, double levelMm) {
    this.d = d;
    this.lie = lie;
    canalValues = scene.section("canal");
    fluid = scene.section("fluid");
    clipOhms = scene.section("front_end").get(FrontEndSection.CLIP);
    canal = Canal.of(canalValues);
    bore = new Bore(canal);
    file = Instrument.of(scene.section("file"));
    length = canal.length() * 1e3;
    depth = fluid.get(FluidSection.CHAMBER_DEPTH) * 1e-3;
    double area = fluid.get(FluidSection.CHAMBER_AREA) * 1e-3;
    chamber = Math.sqrt(area / Math.PI);
    tip = tipMm;
    level = levelMm;
  }

  void draw() {
    tissue();
    tooth();
    contents();
    if (fluid.get(FluidSection.CROWN) > 0) {
      crown();
    }
    file();
    circuit();
    current();
    scale();
    d.label("note", "middle", AXIS + 10, y(-2.6), lie.caption());
  }

  private void tissue() {
    double gum = y(length - GUM_BELOW_ORIFICE);
    d.rect("tissue", 4, gum, 280, y(-1.6) - gum);
    d.label("tick", "start", 34, y(-1.0), "tissue");
  }

  private void tooth() {
    StringBuilder out = new StringBuilder();
    double wide = (chamber + 0.55) * ACROSS;
    double neck = (bore.radius(canal.length()) * 1e3 + ROOT_WALL) * ACROSS;
    double apex = (bore.radius(0.4e-3) * 1e3 + 0.3) * ACROSS;
    out.append(move(AXIS - wide, y(length + depth)))
        .append(line(AXIS + wide, y(length + depth)))
        .append(curve(AXIS + wide, y(length + 1), AXIS + neck, y(length - 0.5)))
        .append(curve(AXIS + neck - 6, y(5), AXIS + apex, y(0)))
        .append(line(AXIS - apex, y(0)))
        .append(curve(AXIS - neck + 6, y(5), AXIS - neck, y(length - 0.5)))
        .append(curve(AXIS - wide, y(length + 1), AXIS - wide, y(length + depth)))
        .append('z');
    d.path("tooth", out.toString());
    d.path("hollow", hollow(0, length + depth));
  }

  private void contents() {
    double top = Math.min(level, length + depth);
    if (top > 0) {
      d.path("fluid", hollow(0, top));
    }
    double blood = Math.min(top, canalValues.get(CanalSection.EXUDATE) * 1e-3);
    if (blood > 0) {
      d.path("blood", hollow(0, blood));
    }
    double side = canalValues.get(CanalSection.LATERAL_CANAL) * 1e-3;
    if (side > 0) {
      double from = AXIS + bore.radius(side * 1e-3) * 1e3 * ACROSS - 1;
      d.rect("fluid", from, y(side) - 2, 47, 4);
    }
    double piece = canalValues.get(CanalSection.FRAGMENT_LENGTH) * 1e-3;
    if (piece > 0) {
      double bottom = canalValues.get(CanalSection.FRAGMENT) * 1e-3;
      d.path("file", hollow(bottom, bottom + piece));
      StringBuilder threads = new StringBuilder();
      for (double z = bottom + 0.15; z < bottom + piece - 0.2; z += 0.35) {
        double r = bore.radius(z * 1e-3) * 1e3 * ACROSS;
        threads.append(move(AXIS - r, y(z))).append(line(AXIS + r, y(z + 0.25)));
      }
      d.path("thread", threads.toString());
    }
  }

  private void crown() {
    double edge = length + fluid.get(FluidSection.CROWN_EDGE) * 1e-3;
    double inner = chamber * ACROSS;
    double outer = (chamber + 0.62) * ACROSS;
    double foot = y(length - GUM_BELOW_ORIFICE) - 2;
    for (int side = -1; side <= 1; side += 2) {
      d.path(
          "file",
          move(AXIS + side * inner, y(edge))
              + line(AXIS + side * inner, y(length + depth) - 5)
              + line(AXIS + side * outer, y(length + depth) - 5)
              + line(AXIS + side * (outer + 2), foot)
              + line(AXIS + side * (outer - 8), foot)
              + line(AXIS + side * (outer - 6), y(length + depth) + 3)
              + line(AXIS + side * (inner + 4), y(length + depth) + 3)
              + line(AXIS + side * (inner + 4), y(edge))
              + "z");
    }
    d.label("tick", "start", 34, y(length + depth) - 10, "metal");
  }

  private void file() {
    double end = length + depth + HANDLE;
    double shaft = Math.min(end, tip + file.cuttingLength() * 1e3);
    StringBuilder right = new StringBuilder(move(AXIS - fileHalf(tip), y(tip)));
    right.append(line(AXIS + fileHalf(tip), y(tip)));
    right.append(line(AXIS + fileHalf(shaft), y(shaft)));
    right.append(line(AXIS + fileHalf(end), y(end)));
    right.append(line(AXIS - fileHalf(end), y(end)));
    right.append(line(AXIS - fileHalf(shaft), y(shaft))).append('z');
    d.path("file", right.toString());
  }

  private double fileHalf(double z) {
    return file.radius((z - tip) * 1e-3) * 1e3 * ACROSS;
  }

  /** Meter, wire to the file, wire to the lip clip. */
  private void circuit() {
    double end = y(length + depth + HANDLE);
    double meter = 206;
    d.path("plain", move(AXIS, end) + line(AXIS, end - 12) + line(meter, end - 12));
    d.rect("box", meter, end - 24, 30, 24);
    d.label("head", "middle", meter + 15, end - 7, "Z");
    double clip = clipY();
    StringBuilder wire =
        new StringBuilder(move(meter + 30, end - 12)).append(line(CLIP_X, end - 12));
    if (clipOhms > 0 && !open()) {
      double zig = end + 22;
      wire.append(line(CLIP_X, zig));
      for (int i = 0; i < 6; i++) {
        wire.append(line(CLIP_X + (i % 2 == 0 ? 6 : -6), zig + 4 + 7 * i));
      }
      wire.append(line(CLIP_X, zig + 46));
    }
    wire.append(line(CLIP_X, clip));
    d.path("plain", wire.toString());
    d.path("clip", move(CLIP_X - 8, clip) + line(CLIP_X + 8, clip));
    d.label("tick", "end", CLIP_X - 7, y(length - GUM_BELOW_ORIFICE) + 40, "lip clip");
  }

  private boolean open() {
    return clipOhms > 1e6;
  }

  private double clipY() {
    double gum = y(length - GUM_BELOW_ORIFICE);
    return open() ? gum - 26 : gum;
  }

  private void current() {
    switch (lie) {
      case DRY, TIP_OUT -> broken(AXIS + 4, y(tip) + 12);
      case CLIP_OFF -> broken(CLIP_X, clipY() + 14);
      case FULL, FILLED -> {
        through("current faint");
        double rim = y(length + depth) - 4;
        double side = AXIS + (chamber + 0.62) * ACROSS;
        astray(
            move(AXIS + fileHalf(length + 1) + 2, y(length + 1.2))
                + line(AXIS + chamber * ACROSS - 8, rim + 14)
                + curve(AXIS + chamber * ACROSS, rim, side, rim)
                + curve(side + 8, rim, side + 4, y(length - GUM_BELOW_ORIFICE) + 8)
                + line(CLIP_X - 8, y(length - GUM_BELOW_ORIFICE) + 8));
      }
      case CROWN -> {
        through("current faint");
        double side = AXIS + (chamber + 0.62) * ACROSS - 2;
        double foot = y(length - GUM_BELOW_ORIFICE) + 8;
        astray(
            move(AXIS + fileHalf(length + 1) + 2, y(length + 1.8))
                + line(AXIS + chamber * ACROSS + 2, y(length + 2))
                + line(AXIS + chamber * ACROSS + 2, y(length + depth) - 1)
                + line(side, y(length + depth) - 1)
                + line(side, foot)
                + line(CLIP_X - 8, foot));
      }
      case LATERAL -> {
        through("current faint");
        double side = canalValues.get(CanalSection.LATERAL_CANAL) * 1e-3;
        astray(move(AXIS + 6, y(side)) + line(AXIS + 78, y(side)));
      }
      case WATER -> {
        through("current faint");
        for (double z = 2; z < 6; z += 1.8) {
          astray(
              move(AXIS + fileHalf(Math.max(z, tip)) + 3, y(z + 0.9))
                  + line(AXIS + 74, y(z + 0.9)));
        }
      }
      case FRAGMENT_MIDDLE, FRAGMENT_APEX -> through("current astray");
      default -> through("current");
    }
  }

  /** Through the foramen and the tissue to the lip clip. */
  private void through(String style) {
    double clip = y(length - GUM_BELOW_ORIFICE) + 10;
    d.path(
        style,
        move(AXIS, y(Math.max(tip - 0.1, 0.3)))
            + line(AXIS, y(-0.5))
            + "C"
            + at(AXIS, y(-2))
            + " "
            + at(CLIP_X, y(-2))
            + " "
            + at(CLIP_X, y(4))
            + line(CLIP_X, clip));
    d.path(style, move(CLIP_X - 5, clip + 9) + line(CLIP_X, clip) + line(CLIP_X + 5, clip + 9));
  }

  /** A way around the canal whose last stretch is a line to the right, with its arrow head. */
  private void astray(String way) {
    String[] end = way.substring(way.lastIndexOf('L') + 1).split(" ", -1);
    double x = Double.parseDouble(end[0]);
    double y = Double.parseDouble(end[1]);
    d.path("current astray", way);
    d.path("current astray", move(x - 8, y - 5) + line(x, y) + line(x - 8, y + 5));
  }

  /** A cross where the circuit is open. */
  private void broken(double x, double y) {
    d.path(
        "current astray",
        move(x - 7, y - 7) + line(x + 7, y + 7) + move(x + 7, y - 7) + line(x - 7, y + 7));
  }

  /** Heights above the foramen, mm. */
  private void scale() {
    for (int z = 0; z <= 12; z += 2) {
      d.line("axis", 22, y(z), 28, y(z));
      d.label("tick", "end", 20, y(z) + 4.5, Integer.toString(z));
    }
    d.line("axis", 28, y(0), 28, y(12));
    d.label("tick", "start", 4, y(12.8), "mm");
    d.line("foramen", 28, y(0), AXIS + 60, y(0));
    d.label("note", "start", AXIS + 34, y(0) - 4, "foramen");
  }

  /** The outline of canal and chamber between two heights, mm. */
  private String hollow(double from, double to) {
    List<double[]> right = new ArrayList<>();
    double top = Math.min(to, length);
    for (int i = 0; i <= 60; i++) {
      double z = from + (top - from) * i / 60;
      right.add(new double[] {bore.radius(z * 1e-3) * 1e3 * ACROSS, y(z)});
    }
    if (to > length) {
      right.add(new double[] {chamber * ACROSS, y(length)});
      right.add(new double[] {chamber * ACROSS, y(to)});
    }
    StringBuilder path = new StringBuilder();
    for (int i = 0; i < right.size(); i++) {
      double[] p = right.get(i);
      path.append(i == 0 ? move(AXIS + p[0], p[1]) : line(AXIS + p[0], p[1]));
    }
    for (int i = right.size() - 1; i >= 0; i--) {
      path.append(line(AXIS - right.get(i)[0], right.get(i)[1]));
    }
    return path.append('z').toString();
  }

  private double y(double mm) {
    return TOP + (length + depth + HANDLE - mm) * PER_MM;
  }

  static String move(double x, double y) {
    return "M" + at(x, y);
  }

  static String line(double x, double y) {
    return "L" + at(x, y);
  }

  private static String curve(double x1, double y1, double x2, double y2) {
    return "Q" + at(x1, y1) + " " + at(x2, y2);
  }

  private static String at(double x, double y) {
    return String.format(Locale.ROOT, "%.1f %.1f", x, y);
  }
}
