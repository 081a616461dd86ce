package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.rig.bench.Truth;

class ErrorChainTest {
  private static final double NOTHING = Double.NaN;

  /**
   * The file comes nearer by 1 µm/ms until it is at rest. At 1.000 s the controller decides, on a
   * sample of 0.980 s; at 1.010 s the motor has lost a tenth of its speed; it rests 60 µm deeper.
   */
  @Test
  void everyShareIsWhereItBelongs() {
    // Truth at time t ms is 1600 − t µm, so 620 at the sample, 600 at the decision, 590 at the
    // motor's answer, 530 at rest. The sample said 650, the filter 640, the standoff is 500.
    TrialResult stop = stop(530, 500, 640, 1000);
    ErrorChain chain = trail(1000, 20, 10, 650, ms(980)).chain(stop);
    assertEquals(new ErrorChain(620 - 650, 650 - 640, 640 - 500, -20, -10, -60), chain);
    assertEquals(30, chain.totalMicrons());
    assertEquals(stop.stopErrorMicrons(), chain.totalMicrons());
  }

  @Test
  void theSharesAlwaysAddUpToTheStopError() {
    long seed = 4;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    for (int i = 0; i < 200; i++) {
      int decided = 200 + random.nextInt(1500);
      int age = random.nextInt(100);
      int answer = random.nextInt(50);
      int raw = random.nextInt(3000);
      TrialResult stop = stop(random.nextInt(2000) - 500, 500, random.nextInt(2000), decided);
      assertEquals(
          stop.stopErrorMicrons(),
          trail(decided, age, answer, raw, ms(decided - age)).chain(stop).totalMicrons());
    }
  }

  /** A policy that smooths over 100 ms reads the place of 50 ms before its newest sample. */
  @Test
  void theReadingOfAPolicyThatSmoothsBelongsToAnEarlierTime() {
    ErrorChain chain = trail(1000, 20, 10, 650, ms(980 - 50)).chain(stop(530, 500, 640, 1000));
    assertEquals(new ErrorChain(670 - 650, 650 - 640, 640 - 500, -70, -10, -60), chain);
    assertEquals(30, chain.totalMicrons());
  }

  @Test
  void aSampleWithoutADistanceCountsAsSense() {
    ErrorChain chain = trail(1000, 20, 10, NOTHING, 0).chain(stop(530, 500, 640, 1000));
    assertEquals(new ErrorChain(620 - 640, 0, 640 - 500, -20, -10, -60), chain);
  }

  @Test
  void withoutAStopThereIsNothingToSplit() {
    StopTrail trail = trail(1000, 20, 10, 650, ms(980));
    assertEquals(ErrorChain.NONE, trail.chain(SampleRun.refusal(0)));
    assertEquals(ErrorChain.NONE, trail.chain(stop(530, 500, 640, 99_999)));
  }

  /** Only the last second is kept: an older sample counts as one of a second ago. */
  @Test
  void anySteppingTimeKeepsTheLastSecond() {
    for (int perMs : new int[] {1, 10}) {
      StopTrail trail = new StopTrail();
      Truth truth = new Truth();
      for (int step = 0; step <= 4000 * perMs; step++) {
        truth.remainingMicrons = 9000 - step / perMs;
        trail.add(step * (ms(1) / perMs), truth);
      }
      trail.decide(ms(4000), truth, ms(3990), NOTHING, 0);
      assertEquals(-10, trail.chain(stop(5000, 500, 640, 4000)).linkMicrons());
      trail.decide(ms(4000), truth, ms(2990), NOTHING, 0);
      assertEquals(-1000, trail.chain(stop(5000, 500, 640, 4000)).linkMicrons());
    }
  }

  private static long ms(int ms) {
    return ms * 1_000_000L;
  }

  private static TrialResult stop(int rest, int standoff, int reading, int decidedMs) {
    TrialResult t = SampleRun.stop(0, 0);
    return new TrialResult(
        0,
        t.condition(),
        t.seed(),
        t.expectation(),
        t.verdict(),
        t.code(),
        t.message(),
        true,
        rest,
        rest - standoff,
        rest,
        reading,
        t.state(),
        t.reason(),
        t.trust(),
        t.cause(),
        decidedMs * 1_000_000L,
        3_000_000_000L,
        3000,
        0,
        0,
        ErrorChain.NONE);
  }

  private static StopTrail trail(
      int decidedMs, int sampleAgeMs, int answerMs, double raw, long rawNs) {
    StopTrail trail = new StopTrail();
    Truth truth = new Truth();
    for (int ms = 0; ms < 2000; ms++) {
      truth.remainingMicrons = 1600 - ms;
      truth.speedMilliRpm = ms < decidedMs + answerMs ? 100_000 : 89_000;
      trail.add(ms(ms), truth);
      if (ms == decidedMs) {
        trail.decide(ms(ms), truth, ms(ms - sampleAgeMs), raw, rawNs);
      }
    }
    return trail;
  }
}
