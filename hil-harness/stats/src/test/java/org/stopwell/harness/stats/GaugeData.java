package org.stopwell.harness.stats;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The gauge study of AIAG, Measurement Systems Analysis, 4th edition, chapter III section B: 10
 * parts, 3 appraisers, 3 readings. Numbers and results agree with two transcriptions that others
 * have published: the tests of cjbrant/mfgQC and of LSaiko/grr-analysis-tool on GitHub, both read
 * in November 2026. The manual itself was not at hand.
 */
final class GaugeData {
  /** By appraiser, then by trial: the ten parts. */
  static final String[][] APPRAISERS = {
    {
      ".29 -.56 1.34 .47 -.80 .02 .59 -.31 2.26 -1.36",
      ".41 -.68 1.17 .50 -.92 -.11 .75 -.20 1.99 -1.25",
      ".64 -.58 1.27 .64 -.84 -.21 .66 -.17 2.01 -1.31"
    },
    {
      ".08 -.47 1.19 .01 -.56 -.20 .47 -.63 1.80 -1.68",
      ".25 -1.22 .94 1.03 -1.20 .22 .55 .08 2.12 -1.62",
      ".07 -.68 1.34 .20 -1.28 .06 .83 -.34 2.19 -1.50"
    },
    {
      ".04 -1.38 .88 .14 -1.46 -.29 .02 -.46 1.77 -1.49",
      "-.11 -1.13 1.09 .20 -1.07 -.67 .01 -.56 1.45 -1.77",
      "-.15 -.96 .67 .11 -1.45 -.49 .21 -.49 1.87 -2.16"
    },
  };

  private GaugeData() {}

  /** Numbers by part, then by appraiser, then by trial. */
  static List<List<List<Double>>> table() {
    List<List<List<Double>>> table = new ArrayList<>();
    for (int part = 0; part < 10; part++) {
      int column = part;
      List<List<Double>> row = new ArrayList<>();
      for (String[] trials : APPRAISERS) {
        row.add(Arrays.stream(trials).map(t -> Double.valueOf(t.split(" ", -1)[column])).toList());
      }
      table.add(row);
    }
    return table;
  }
}
