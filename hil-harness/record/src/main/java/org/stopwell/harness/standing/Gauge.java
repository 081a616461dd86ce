package org.stopwell.harness.standing;

import java.util.Locale;
import org.stopwell.harness.stats.GaugeStudy;
import org.stopwell.rig.proof.Finding;

/**
 * The result of a gauge study of a bench: repeatability, and reproducibility over remounts or
 * persons.
 *
 * @param repeatNanometres standard deviation of repeats, nm
 * @param remountNanometres standard deviation that mounting anew or another person adds,
 *     interaction included, nm
 * @param nanometres standard deviation of both together, nm
 * @param freedom degrees of freedom of the repeats
 */
public record Gauge(long repeatNanometres, long remountNanometres, long nanometres, int freedom) {
  /** What the check is called in a proof. */
  public static final String CHECK = "gauge study";

  /**
   * Works out a study.
   *
   * @param table its readings, µm
   * @return what it says
   */
  public static Gauge of(GaugeTable table) {
    GaugeStudy study = table.variance();
    int repeats = table.thousandths().get(0).get(0).size();
    return new Gauge(
        root(study.equipmentVariance()),
        root(study.gaugeVariance() - study.equipmentVariance()),
        root(study.gaugeVariance()),
        table.parts().size() * table.appraisers().size() * (repeats - 1));
  }

  private static long root(double variance) {
    return Math.round(Math.sqrt(Math.max(0, variance)));
  }

  /**
   * The capability of the bench.
   *
   * @return GOOD up to 10 % of ±0.5 mm, USABLE up to 30 %, COARSE beyond
   */
  public String grade() {
    if (nanometres > BenchStanding.WORST_GAUGE_NANOMETRES) {
      return "COARSE";
    }
    return nanometres > BenchStanding.GOOD_GAUGE_NANOMETRES ? "USABLE" : "GOOD";
  }

  /**
   * The study as a finding of a proof.
   *
   * @param between what the appraisers were, such as {@code mounted anew}
   * @return failed when the bench is too coarse to decide
   */
  public Finding finding(String between) {
    boolean usable = nanometres <= BenchStanding.WORST_GAUGE_NANOMETRES;
    return new Finding(
        CHECK,
        usable ? Finding.Outcome.PASS : Finding.Outcome.FAIL,
        String.format(
            Locale.ROOT,
            "σ %.1f µm, %.1f %% of ±0.5 mm, %s",
            nanometres / 1e3,
            6 * nanometres / 1e6 * 100,
            grade()),
        "17 µm for 10 %, 50 µm for 30 %",
        String.format(
            Locale.ROOT,
            "Ladder against stage at several places: repeats %.1f µm, %s %.1f µm.",
            repeatNanometres / 1e3,
            between,
            remountNanometres / 1e3));
  }
}
