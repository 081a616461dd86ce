package org.stopwell.harness.tune;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import org.stopwell.harness.explore.Evaluation;
import org.stopwell.harness.explore.ShardSummary;
import org.stopwell.harness.explore.WideSums;

/** Exact sums over canals, for one or more settings that met the same canals. */
final class CanalSums implements ShardSummary<CanalSums> {
  /** Stop errors beyond are counted here, µm: longer than a canal, and its fourth power fits. */
  private static final long LONGEST_MICRONS = 50_000;

  /** What is summed for each of the settings. */
  enum Sum {
    TRIALS,
    IMPOSSIBLE,
    STOPPED,
    OVER_TRAVEL,
    EARLY,
    REFUSED,
    MILLIS,
    MILLIS_2,
    ERROR,
    ERROR_2,
    ERROR_3,
    ERROR_4,
    /**
     * Canals in which the first settings went past the foramen and these did not; then the rest.
     */
    OVER_TRAVEL_ONLY_FIRST,
    OVER_TRAVEL_ONLY_HERE,
    EARLY_ONLY_FIRST,
    EARLY_ONLY_HERE,
    REFUSED_ONLY_FIRST,
    REFUSED_ONLY_HERE,
    /** Time here minus time of the first settings. */
    PAIRS,
    MILLIS_MORE,
    MILLIS_MORE_2
  }

  private static final int EACH = Sum.values().length;

  private final int settings;
  private final WideSums sums;

  CanalSums(int settings) {
    this(settings, new WideSums(settings * EACH));
  }

  private CanalSums(int settings, WideSums sums) {
    this.settings = settings;
    this.sums = sums;
  }

  static CanalSums read(byte[] bytes, int settings) throws IOException {
    DataInputStream in = new DataInputStream(new ByteArrayInputStream(bytes));
    return new CanalSums(settings, WideSums.read(in, settings * EACH));
  }

  java.math.BigInteger get(int of, Sum sum) {
    return sums.exact(of * EACH + sum.ordinal());
  }

  long count(int of, Sum sum) {
    return get(of, sum).longValueExact();
  }

  /** Counts one canal: what each of the settings gave in it. */
  void add(Evaluation[] results) {
    for (int i = 0; i < results.length; i++) {
      Evaluation r = results[i];
      if (!r.possible()) {
        add(i, Sum.IMPOSSIBLE, 1);
        continue;
      }
      add(i, Sum.TRIALS, 1);
      add(i, Sum.STOPPED, flag(r.stopped()));
      add(i, Sum.OVER_TRAVEL, flag(r.overTravel()));
      add(i, Sum.EARLY, flag(r.early()));
      add(i, Sum.REFUSED, flag(r.refused()));
      add(i, Sum.MILLIS, r.millis());
      add(i, Sum.MILLIS_2, r.millis() * r.millis());
      if (r.stopped()) {
        long e = Math.max(-LONGEST_MICRONS, Math.min(LONGEST_MICRONS, r.stopErrorMicrons()));
        add(i, Sum.ERROR, e);
        add(i, Sum.ERROR_2, e * e);
        add(i, Sum.ERROR_3, e * e * e);
        add(i, Sum.ERROR_4, e * e * e * e);
      }
      if (i > 0 && results[0].possible()) {
        pair(i, results[0], r);
      }
    }
  }

  private void pair(int i, Evaluation first, Evaluation here) {
    add(i, Sum.PAIRS, 1);
    add(i, Sum.OVER_TRAVEL_ONLY_FIRST, flag(first.overTravel() && !here.overTravel()));
    add(i, Sum.OVER_TRAVEL_ONLY_HERE, flag(here.overTravel() && !first.overTravel()));
    add(i, Sum.EARLY_ONLY_FIRST, flag(first.early() && !here.early()));
    add(i, Sum.EARLY_ONLY_HERE, flag(here.early() && !first.early()));
    add(i, Sum.REFUSED_ONLY_FIRST, flag(first.refused() && !here.refused()));
    add(i, Sum.REFUSED_ONLY_HERE, flag(here.refused() && !first.refused()));
    long more = here.millis() - first.millis();
    add(i, Sum.MILLIS_MORE, more);
    add(i, Sum.MILLIS_MORE_2, more * more);
  }

  private void add(int of, Sum sum, long value) {
    sums.add(of * EACH + sum.ordinal(), value);
  }

  private static long flag(boolean is) {
    return is ? 1 : 0;
  }

  @Override
  public CanalSums merge(CanalSums other) {
    CanalSums both = new CanalSums(settings);
    both.sums.addAll(sums);
    both.sums.addAll(other.sums);
    return both;
  }

  @Override
  public byte[] toBytes() {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (DataOutputStream out = new DataOutputStream(bytes)) {
      sums.write(out);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return bytes.toByteArray();
  }
}
