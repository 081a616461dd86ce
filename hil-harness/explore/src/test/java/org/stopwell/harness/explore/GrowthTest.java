package org.stopwell.harness.explore;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.lang.management.ManagementFactory;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.apache.commons.statistics.distribution.TDistribution;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.plan.Space;

/**
 * The memory of an exploration does not grow with the number of trials, and its time grows in
 * proportion. A function stands in place of physics. The long form, {@code
 * -Dstopwell.trials=10000000}, prints both (docs/proof.md).
 */
class GrowthTest {
  private static final long MOST = Long.getLong("stopwell.trials", 100_000);

  /** Sizes from a hundredth of the greatest on, two for each power of ten. */
  private static final double[] SHARES = {0.01, 0.0316, 0.1, 0.316, 1};

  private static final int ROUNDS = 3;

  /** Shorter runs do not count: their start, some hundredths of a second, decides them, s. */
  private static final double CLEAR_S = 1;

  /** Sines in a trial of the stub. */
  private static final int STUB = 50;

  /** What the machine itself may keep, bytes; the summary has some ten thousand. */
  private static final long SLACK = 2_000_000;

  @Test
  void memoryDoesNotGrowAndTimeGrowsInProportion() throws Exception {
    run(work(MOST));
    List<double[]> times = new ArrayList<>();
    long few = 0;
    long many = 0;
    for (int round = 0; round < ROUNDS; round++) {
      for (double share : SHARES) {
        ExploreWork work = work(Math.round(share * MOST));
        long began = cpuNs();
        Finished<ExploreSummary> all = run(work);
        double seconds = (cpuNs() - began) / 1e9;
        long trials = all.summary().counted(ExploreSummary.Count.TRIALS);
        long used = usedBytes();
        few = share == SHARES[0] ? used : few;
        many = used;
        if (seconds >= CLEAR_S) {
          times.add(new double[] {Math.log((double) trials), Math.log(seconds)});
        }
        System.out.printf(
            Locale.ROOT,
            "%d trials: processor time %.2f s, memory in use %.2f MB%n",
            trials,
            seconds,
            used / 1e6);
      }
    }
    if (times.size() > 2) {
      System.out.println(exponent(times));
    }
    assertTrue(many - few < SLACK, few + " bytes grew to " + many);
  }

  /** Least squares of the logarithms, with the 95 % interval of Student's t. */
  private static String exponent(List<double[]> points) {
    double x = points.stream().mapToDouble(p -> p[0]).average().orElseThrow();
    double y = points.stream().mapToDouble(p -> p[1]).average().orElseThrow();
    double xx = points.stream().mapToDouble(p -> (p[0] - x) * (p[0] - x)).sum();
    double slope = points.stream().mapToDouble(p -> (p[0] - x) * (p[1] - y)).sum() / xx;
    double left =
        points.stream().mapToDouble(p -> Math.pow(p[1] - y - slope * (p[0] - x), 2)).sum();
    int free = points.size() - 2;
    double reach =
        TDistribution.of(free).inverseCumulativeProbability(0.975) * Math.sqrt(left / free / xx);
    return String.format(
        Locale.ROOT, "exponent of time over trials %.4f ± %.4f (95 %%)", slope, reach);
  }

  private static ExploreWork work(long trials) throws Exception {
    Space space = KnownFunctions.space(Space.Design.SOBOL, 3, -Math.PI, Math.PI, 7, trials);
    return new ExploreWork(space, GrowthTest::stub, "");
  }

  /** Some microseconds of work, so that the trials and not the clock decide. */
  private static Evaluation stub(long[] values, long rest) {
    double sum = 0;
    for (int i = 1; i <= STUB; i++) {
      sum += StrictMath.sin(i * values[0] / 1e6);
    }
    return KnownFunctions.ishigami(values, (long) sum);
  }

  private static Finished<ExploreSummary> run(ExploreWork work) {
    Finished<ExploreSummary> all =
        new Pool(1)
            .run(
                work,
                Finished.none(work),
                RowSink.NOWHERE,
                f -> {},
                Engine.Watcher.NOBODY,
                () -> false);
    assertEquals(work.units(), all.units().size());
    return all;
  }

  private static long cpuNs() {
    return ((com.sun.management.OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean())
        .getProcessCpuTime();
  }

  private static long usedBytes() {
    long least = Long.MAX_VALUE;
    for (int i = 0; i < 3; i++) {
      System.gc();
      Runtime machine = Runtime.getRuntime();
      least = Math.min(least, machine.totalMemory() - machine.freeMemory());
    }
    return least;
  }
}
