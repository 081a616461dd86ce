package org.stopwell.core.sense;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;

class ApproachMemoryTest {
  private final ControllerInput in = new ControllerInput();

  /** A made-up canal: resistance falls, phase grows, straight in the distance. */
  private void at(double mm) {
    in.frequencyCount = 4;
    for (int i = 0; i < 4; i++) {
      double size = (4000 + 3000 * mm) * (1 - 0.05 * i);
      double phase = -0.1 - 0.02 * i / (1 + mm);
      in.zRealMilliOhms[i] = (int) (1000 * size * StrictMath.cos(phase));
      in.zImagMilliOhms[i] = (int) (1000 * size * StrictMath.sin(phase));
    }
  }

  private double[] afterApproach(double stepMm, int pauseAt, int pause) {
    ApproachMemory memory = new ApproachMemory();
    int k = 0;
    for (double mm = 8; mm >= 0.5; mm -= stepMm) {
      at(mm);
      int times = k++ == pauseAt ? pause : 1;
      for (int i = 0; i < times; i++) {
        assertTrue(memory.add(in));
      }
    }
    at(0.5);
    for (int i = 0; i < 100; i++) {
      memory.add(in);
    }
    double[] features = new double[ApproachMemory.FEATURES];
    memory.features(features);
    return features;
  }

  @Test
  void theFeaturesDoNotDependOnTheFeed() {
    assertArrayEquals(afterApproach(0.004, 0, 1), afterApproach(0.002, 0, 1), 0.02);
  }

  @Test
  void aPauseChangesNothing() {
    assertArrayEquals(afterApproach(0.004, 0, 1), afterApproach(0.004, 900, 2000), 0.02);
  }

  @Test
  void aDryTipEndsTheApproach() {
    ApproachMemory memory = new ApproachMemory();
    at(8);
    assertTrue(memory.add(in));
    for (double mm = 8; mm > 1; mm -= 0.01) {
      at(mm);
      memory.add(in);
    }
    double[] features = new double[ApproachMemory.FEATURES];
    memory.features(features);
    assertTrue(features[15] > 0, "the nearest step back is remembered");
    in.zRealMilliOhms[0] = 1_000_000;
    in.zImagMilliOhms[0] = -900_000_000;
    assertFalse(memory.add(in));
    at(1);
    assertTrue(memory.add(in));
    memory.features(features);
    assertEquals(0, features[15], "nothing is remembered");
  }

  @Test
  void anySampleAtAllIsBorne() {
    ApproachMemory memory = new ApproachMemory();
    double[] features = new double[ApproachMemory.FEATURES];
    int[] values = {0, 1, -1, Integer.MIN_VALUE, Integer.MAX_VALUE, 123_456_789};
    in.frequencyCount = 4;
    for (int a : values) {
      for (int b : values) {
        for (int i = 0; i < 4; i++) {
          in.zRealMilliOhms[i] = i % 2 == 0 ? a : b;
          in.zImagMilliOhms[i] = i % 2 == 0 ? b : a;
        }
        memory.add(in);
        memory.features(features);
        for (double f : features) {
          assertTrue(Double.isFinite(f));
        }
      }
    }
  }

  @Test
  void nothingIsRememberedWhileTheMetalHidesTheCanal() {
    ApproachMemory memory = new ApproachMemory();
    double[] features = new double[ApproachMemory.FEATURES];
    for (double mm = 8; mm > 1; mm -= 0.01) {
      at(mm);
      double size = 1_000_000 * (4 + 3 * mm);
      in.zRealMilliOhms[0] = (int) (size * StrictMath.cos(-0.8));
      in.zImagMilliOhms[0] = (int) (size * StrictMath.sin(-0.8));
      assertTrue(memory.add(in), "in fluid all the same");
    }
    memory.features(features);
    assertEquals(0, features[15]);
  }

  /** An exponential mean of even samples lags by (1 − share)/share of them. */
  @Test
  void theSmoothedReadingIsSevenSamplesOld() {
    ApproachMemory memory = new ApproachMemory();
    at(2);
    for (int i = 0; i < 200; i++) {
      in.sampleTimeNs = 5_000_000L * i;
      memory.add(in);
      if (i == 0) {
        assertEquals(0, memory.lagNs(), "the first one is itself");
      }
    }
    assertEquals(
        5e6 * (1 - ApproachMemory.SMOOTHING) / ApproachMemory.SMOOTHING, memory.lagNs(), 1);
  }

  /** The slower the sampling, the more one sample counts: the delay stays below 37 ms. */
  @Test
  void slowSamplingAddsNoDelay() {
    assertEquals(ApproachMemory.SMOOTHING, ApproachMemory.share(5_000_000), 0);
    for (long apartMs : new long[] {1, 20, 50, 100, 500}) {
      ApproachMemory memory = new ApproachMemory();
      at(2);
      for (int i = 0; i < 2_000; i++) {
        in.sampleTimeNs = 1_000_000L * apartMs * i;
        memory.add(in);
      }
      assertEquals(36.67e6, memory.lagNs(), 0.01e6, apartMs + " ms");
    }
  }

  /** Where the logarithm grows evenly with time, the smoothed one is that of the lag ago. */
  @Test
  void theLagIsRightForSamplesThatComeUnevenly() {
    long seed = 11;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    ApproachMemory memory = new ApproachMemory();
    double[] features = new double[ApproachMemory.FEATURES];
    double perSecond = 0.8;
    in.frequencyCount = 4;
    for (int i = 0; i < 300; i++) {
      in.sampleTimeNs += 1_000_000L + random.nextInt(12_000_000);
      double ohms = 20_000 * StrictMath.exp(-perSecond * in.sampleTimeNs * 1e-9);
      for (int f = 0; f < 4; f++) {
        in.zRealMilliOhms[f] = (int) (1000 * ohms);
        in.zImagMilliOhms[f] = 0;
      }
      memory.add(in);
      memory.features(features);
      double then = in.sampleTimeNs - memory.lagNs();
      // the first feature is the logarithm of the admittance, and 9
      assertEquals(9 - StrictMath.log(20_000) + perSecond * then * 1e-9, features[0], 1e-6);
    }
  }
}
