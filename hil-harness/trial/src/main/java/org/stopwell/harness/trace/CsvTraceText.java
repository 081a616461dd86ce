package org.stopwell.harness.trace;

import java.math.BigDecimal;
import java.util.Arrays;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.harness.trial.TraceReader;

/**
 * The approach of a recorded trial as a CSV trace with the true distance: one row for each sample
 * of the impedance, from the orifice to the deepest place.
 *
 * @param text the CSV file; its head alone when no sample was taken on the way
 * @param rows how many rows there are behind the head
 * @param leastMicrons least true distance of a row, µm
 */
public record CsvTraceText(String text, int rows, int leastMicrons) {
  /**
   * Writes the approach of a trial.
   *
   * @param trace the recorded steps
   * @param lengthMicrons length of the canal; rows begin below the orifice, µm
   * @return the trace
   */
  public static CsvTraceText of(byte[] trace, int lengthMicrons) {
    Way way = new Way(trace);
    StringBuilder text = new StringBuilder();
    TraceReader steps = new TraceReader(trace);
    long last = 0;
    int rows = 0;
    int least = Integer.MAX_VALUE;
    while (steps.next() && steps.nowNs <= way.deepestNs) {
      boolean fresh =
          steps.in.positionKind == PositionKind.IMPEDANCE && steps.in.sampleSequence != last;
      last = steps.in.sampleSequence;
      // The sample is older than the step; its true distance is that of its own time.
      int remaining = way.at(steps.in.sampleTimeNs);
      if (!fresh || remaining > lengthMicrons) {
        continue;
      }
      if (rows == 0) {
        text.append(head(steps)).append('\n');
      }
      row(text, steps, remaining);
      rows++;
      least = Math.min(least, remaining);
    }
    return new CsvTraceText(text.toString(), rows, least);
  }

  private static String head(TraceReader steps) {
    StringBuilder head = new StringBuilder(CsvColumns.TIME);
    for (int i = 0; i < steps.in.frequencyCount; i++) {
      int hz = steps.in.frequencyHz[i];
      head.append(',').append(CsvColumns.real(hz)).append(',').append(CsvColumns.imaginary(hz));
    }
    return head.append(',').append(CsvColumns.TRUTH).toString();
  }

  private static void row(StringBuilder text, TraceReader steps, int remaining) {
    text.append(decimal(steps.in.sampleTimeNs, 6));
    for (int i = 0; i < steps.in.frequencyCount; i++) {
      text.append(',').append(decimal(steps.in.zRealMilliOhms[i], 3));
      text.append(',').append(decimal(steps.in.zImagMilliOhms[i], 3));
    }
    text.append(',').append(decimal(remaining, 3)).append('\n');
  }

  private static String decimal(long value, int decimals) {
    return BigDecimal.valueOf(value, decimals).toPlainString();
  }

  /** The true distance over time. */
  private static final class Way {
    private final long[] times;
    private final int[] microns;
    private final long deepestNs;

    Way(byte[] trace) {
      TraceReader steps = new TraceReader(trace);
      times = new long[steps.steps()];
      microns = new int[steps.steps()];
      long deepest = Long.MIN_VALUE;
      int least = Integer.MAX_VALUE;
      for (int i = 0; steps.next(); i++) {
        times[i] = steps.nowNs;
        microns[i] = steps.truth.remainingMicrons;
        if (microns[i] < least) {
          least = microns[i];
          deepest = steps.nowNs;
        }
      }
      deepestNs = deepest;
    }

    /** On a straight line between two steps. */
    int at(long atNs) {
      int found = Arrays.binarySearch(times, atNs);
      if (found >= 0) {
        return microns[found];
      }
      int above = -found - 1;
      if (above == 0 || above == microns.length) {
        return microns[above == 0 ? 0 : above - 1];
      }
      long from = times[above - 1];
      double share = (double) (atNs - from) / (times[above] - from);
      return microns[above - 1] + (int) Math.rint(share * (microns[above] - microns[above - 1]));
    }
  }
}
