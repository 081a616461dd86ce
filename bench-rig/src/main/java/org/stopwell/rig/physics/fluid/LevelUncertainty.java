package org.stopwell.rig.physics.fluid;

import java.util.List;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.file.Instrument;

/**
 * What a flat level leaves out, each part with its limits, and the expanded uncertainty of a level:
 * a part with the limits ±a has the standard uncertainty a/√3 (rectangular distribution), the parts
 * are independent, and U is twice the root of the sum of squares (JCGM 100, type B, k = 2). A
 * volume becomes a height in the hollow in which it stands, without a straight line.
 *
 * @param parts what is left out
 * @param height expanded uncertainty of the level, m
 * @param volume expanded uncertainty of the volume of the fluid, m³
 * @param radius radius of the hollow at the level, m
 */
public record LevelUncertainty(List<Part> parts, double height, double volume, double radius) {
  /** Solid share of an inscribed triangle, 3√3/(4π), and of an inscribed square, 2/π. */
  private static final double TRIANGLE = 0.413497;

  private static final double SQUARE = 0.636620;

  /** Speed of a hand that draws a file out, m/s: assumed. */
  private static final double DRAWN_OUT = 10e-3;

  /** Cosine of the receding less cosine of the advancing angle on wet dentine: assumed. */
  private static final double HYSTERESIS = 0.3;

  private static final double FACTOR = 2;

  /**
   * Something that a flat level leaves out.
   *
   * @param what its name
   * @param volume limit of its volume, either way, m³; 0 where it is a height
   * @param height limit of the height that it makes, either way, m
   */
  public record Part(String what, double volume, double height) {}

  /** Copies the parts. */
  public LevelUncertainty {
    parts = List.copyOf(parts);
  }

  /**
   * Bond number of the hollow at the level.
   *
   * @return gravity over surface tension
   */
  public double bond() {
    return Capillarity.bond(radius);
  }

  /**
   * Length of a plug that hangs in the hollow at the level with air below it.
   *
   * @return m
   */
  public double hangs() {
    return Capillarity.hangs(radius, HYSTERESIS);
  }

  /**
   * Of the level with the file in.
   *
   * @param canal values of the scene section {@code canal}
   * @param fluid values of the scene section {@code fluid}
   * @param file values of the scene section {@code file}
   * @param remaining height of the tip above the foramen, m
   * @return the uncertainty
   */
  public static LevelUncertainty withFile(
      ParameterValues canal, ParameterValues fluid, ParameterValues file, double remaining) {
    return new Levels(canal, fluid, file, remaining).withFile();
  }

  /**
   * Of the highest level before the file goes in that keeps the chamber dry.
   *
   * @param canal values of the scene section {@code canal}
   * @param fluid values of the scene section {@code fluid}
   * @param file values of the scene section {@code file}
   * @param remaining height of the tip above the foramen at the end of its way, m
   * @return the uncertainty
   */
  public static LevelUncertainty ofHighestDry(
      ParameterValues canal, ParameterValues fluid, ParameterValues file, double remaining) {
    return new Levels(canal, fluid, file, remaining).highestDry();
  }

  /** A level and its neighbours, of more and of less fluid. */
  private static final class Levels {
    private final Canal canal;
    private final Instrument file;
    private final Bore bore;
    private final double before;
    private final double area;
    private final double depth;
    private final double remaining;
    private final FillLimit limit;

    Levels(ParameterValues canal, ParameterValues fluid, ParameterValues file, double remaining) {
      this.canal = Canal.of(canal);
      this.file = Instrument.of(file);
      this.remaining = remaining;
      before = fluid.get(FluidSection.LEVEL) * 1e-6;
      area = fluid.get(FluidSection.CHAMBER_AREA) * 1e-9;
      depth = fluid.get(FluidSection.CHAMBER_DEPTH) * 1e-6;
      bore = FillLimit.cut(this.canal, this.file, remaining);
      limit = FillLimit.of(this.canal, this.file, before, area, depth, remaining);
    }

    LevelUncertainty withFile() {
      double level = Math.min(limit.levelAfter(), canal.length());
      return sum(level, level - remaining, this::after);
    }

    LevelUncertainty highestDry() {
      double room = Math.max(0, limit.canalVolume() - limit.fileVolume());
      return sum(
          limit.highestDry(),
          canal.length() - remaining,
          more -> bore.heightOf(Math.max(0, room + more)));
    }

    /** The level with the file in and so much more fluid, m. */
    private double after(double more) {
      FluidColumn column = new FluidColumn(canal, bore, file, before, area, depth);
      if (more < 0) {
        column.take(-more);
      } else {
        column.add(more);
      }
      column.follow(remaining);
      return column.level();
    }

    private interface Level {
      double of(double more);
    }

    private LevelUncertainty sum(double level, double wet, Level levels) {
      double radius = bore.radius(level);
      double flutes = file.flutes(wet) - file.flutes(-remaining);
      double envelope = flutes / (1 - file.solidFraction());
      double film = Math.PI * radius * radius * Capillarity.share(Capillarity.film(DRAWN_OUT));
      double cut = limit.canalVolume() - new Bore(canal).volumeBelow(canal.length());
      List<Part> parts =
          List.of(
              part("flutes that carry fluid in or out, full or empty", flutes, levels),
              part(
                  "metal of the file, triangle to square",
                  0.5 * (SQUARE - TRIANGLE) * envelope,
                  levels),
              part("chips in the fluid, all or none", cut, levels),
              part(
                  "one air bubble as wide as the canal",
                  4.0 / 3 * Math.PI * radius * radius * radius,
                  levels),
              part(
                  "film on the wall, drawn out at 10 mm/s",
                  film * Math.max(0, canal.length() - level),
                  levels),
              new Part("meniscus at the wall", 0, Capillarity.meniscus(radius)));
      double heights = 0;
      double volumes = 0;
      for (Part part : parts) {
        heights += part.height * part.height;
        volumes += part.volume * part.volume;
      }
      return new LevelUncertainty(
          parts, FACTOR * Math.sqrt(heights / 3), FACTOR * Math.sqrt(volumes / 3), radius);
    }

    private static Part part(String what, double volume, Level levels) {
      return new Part(what, volume, 0.5 * (levels.of(volume) - levels.of(-volume)));
    }
  }
}
