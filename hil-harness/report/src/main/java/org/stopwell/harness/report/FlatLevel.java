package org.stopwell.harness.report;

import java.util.Locale;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.fluid.FillLimit;
import org.stopwell.rig.physics.fluid.LevelUncertainty;

/**
 * Levels by displacement with what a flat level leaves out, and how they are written: with the
 * digits that their uncertainty supports.
 *
 * @param limit levels and volumes by displacement
 * @param after uncertainty of the level with the file in
 * @param dry uncertainty of the highest level before that keeps the chamber dry
 * @param length length of the canal, m
 */
public record FlatLevel(
    FillLimit limit, LevelUncertainty after, LevelUncertainty dry, double length) {
  /** From here on one significant digit is enough, mm or mm³. */
  private static final double COARSE = 2;

  /**
   * The levels of a scene.
   *
   * @param scene canal, fluid and file
   * @param remaining height of the tip above the foramen, m
   * @return levels and their uncertainty
   */
  public static FlatLevel of(Scene scene, double remaining) {
    var canal = scene.section("canal");
    var fluid = scene.section("fluid");
    var file = scene.section("file");
    return new FlatLevel(
        FillLimit.of(canal, fluid, file, remaining),
        LevelUncertainty.withFile(canal, fluid, file, remaining),
        LevelUncertainty.ofHighestDry(canal, fluid, file, remaining),
        Canal.lengthMicrons(canal) * 1e-6);
  }

  /**
   * The level with the file in.
   *
   * @return such as {@code 11 ± 4 mm}
   */
  public String levelAfter() {
    return text(limit.levelAfter() * 1e3, after.height() * 1e3) + " mm";
  }

  /**
   * The highest level before the file goes in that keeps the chamber dry.
   *
   * @return such as {@code 11 ± 4 mm}
   */
  public String highestDry() {
    return text(limit.highestDry() * 1e3, dry.height() * 1e3) + " mm";
  }

  /**
   * The volume to take away.
   *
   * @return such as {@code 2.4 ± 1.7 mm³}
   */
  public String toRemove() {
    return limit.chamberStaysDry()
        ? "0 mm³"
        : text(limit.toRemove() * 1e9, after.volume() * 1e9) + " mm³";
  }

  /**
   * Whether the uncertainty leaves open if the chamber stays dry.
   *
   * @return true where the level does not decide
   */
  public boolean undecided() {
    return limit.chamberStaysDry()
        ? limit.levelAfter() + after.height() > length
        : limit.toRemove() < after.volume();
  }

  /** A value and its uncertainty, both with the decimals that the uncertainty supports. */
  private static String text(double value, double plusMinus) {
    int decimals = plusMinus < COARSE ? 1 : 0;
    String format = "%." + decimals + "f ± %." + decimals + "f";
    return String.format(Locale.ROOT, format, value, Math.max(plusMinus, 0.05));
  }
}
