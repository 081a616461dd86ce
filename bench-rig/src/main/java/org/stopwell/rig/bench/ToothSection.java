package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;

/**
 * Keys of the scene section {@code tooth}: which extracted tooth is mounted. Nobody writes them:
 * the section {@code teeth} of a plan sets them.
 */
public final class ToothSection {
  /** The present place is the reference point. */
  public static final String HERE = "here";

  /** Number of the extracted tooth; 0 is none. */
  public static final Parameter NUMBER =
      Parameter.of("number")
          .range("0", "999999999")
          .initially("0")
          .text("Number of the extracted tooth; 0: none, the canal is a model or a network.")
          .source("a model or a network");

  /** Whether the present place of the stage is the reference point of the tooth. */
  public static final Parameter ZERO =
      Parameter.of("zero")
          .choice("kept", HERE)
          .text(
              "Zero of the stage. here: the tip is at the reference point now, so the foramen is "
                  + "canal.length_mm away; kept: the zero of this tooth stays.")
          .source("design choice");

  /** All keys. */
  public static final ParameterTable TABLE = new ParameterTable(List.of(NUMBER, ZERO));

  private ToothSection() {}

  /**
   * Which extracted tooth a scene is of.
   *
   * @param scene a scene
   * @return its number; 0 is none
   */
  public static int number(Scene scene) {
    return scene.section("tooth").getInt(NUMBER);
  }

  /**
   * Whether a scene only sets the zero of the stage.
   *
   * @param scene a scene
   * @return true when the tip is at the reference point
   */
  public static boolean zeroes(Scene scene) {
    ParameterValues tooth = scene.section("tooth");
    return tooth.choice(ZERO).equals(HERE);
  }
}
