package org.stopwell.harness.length;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.stats.ExpandedUncertainty;

/**
 * Two lengths of one canal, the second after shaping and with a larger file. They are compared only
 * when {@link #obstacles} finds none.
 *
 * @param before the earlier length
 * @param now the later length
 */
public record Recheck(LengthRecord before, LengthRecord now) {
  /** How often the smallest change of {@link #detectableMicrons} is found. */
  public static final double POWER = 0.9;

  /**
   * What keeps a length of these properties from being compared with an earlier one.
   *
   * @param before the earlier length
   * @param method how the later one is measured
   * @param standoffMicrons its standoff, µm
   * @param radiograph what a radiograph says about it
   * @return one line per obstacle with both values; none when they can be compared
   */
  public static List<String> obstacles(
      LengthRecord before, LengthMethod method, int standoffMicrons, Radiograph radiograph) {
    List<String> found = new ArrayList<>();
    LengthMethod earlier = before.method();
    differ(found, "canal", stated(earlier.canal()), stated(method.canal()));
    differ(found, "standoff", mm(before.standoffMicrons()), mm(standoffMicrons));
    differ(found, "reference point", earlier.reference().point(), method.reference().point());
    if (earlier.depthBy() == DepthBy.AXIS && method.depthBy() == DepthBy.AXIS) {
      differ(
          found,
          "distance from the reference point to the orifice",
          mm(earlier.reference().toOrificeMicrons()),
          mm(method.reference().toOrificeMicrons()));
    }
    if (before.radiograph().contradicts() || radiograph.contradicts()) {
      found.add(
          "radiograph: "
              + before.radiograph().finding().word()
              + " before, "
              + radiograph.finding().word()
              + " now; a length that a radiograph contradicts is not compared");
    }
    return List.copyOf(found);
  }

  private static void differ(List<String> found, String what, String before, String now) {
    if (!before.equals(now)) {
      found.add(what + ": " + before + " before, " + now + " now");
    }
  }

  private static String stated(String name) {
    return name.isEmpty() ? "not stated" : name;
  }

  private static String mm(int microns) {
    return BigDecimal.valueOf(microns, 3).toPlainString() + " mm";
  }

  /**
   * The later length less the earlier one.
   *
   * @return µm
   */
  public int changeMicrons() {
    return now.lengthMicrons() - before.lengthMicrons();
  }

  /**
   * The greatest change that both uncertainties explain.
   *
   * @return expanded uncertainty of the difference, µm
   */
  public int limitMicrons() {
    return (int) Math.ceil(difference().expanded() - 1e-6);
  }

  /**
   * Whether the length has changed: the difference is beyond its expanded uncertainty.
   *
   * @return true when both uncertainties do not explain the change
   */
  public boolean changed() {
    return Math.abs(changeMicrons()) > limitMicrons();
  }

  /**
   * The smallest true change that such a recheck finds nine times in ten.
   *
   * @return µm
   */
  public int detectableMicrons() {
    return (int) Math.ceil(difference().detectable(POWER));
  }

  private ExpandedUncertainty difference() {
    return before.uncertainty().with(now.uncertainty());
  }
}
