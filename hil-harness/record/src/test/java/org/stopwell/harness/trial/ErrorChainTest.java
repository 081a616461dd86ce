package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
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
    byte[] trace = trace(1000, 20, 10);
    TrialResult stop = stop(530, 500, 640, 1000);
    ErrorChain chain = ErrorChain.of(stop, trace, 650, ms(980));
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
      byte[] trace = trace(decided, age, random.nextInt(50));
      int raw = random.nextInt(3000);
      TrialResult stop = stop(random.nextInt(2000) - 500, 500, random.nextInt(2000), decided);
      assertEquals(
          stop.stopErrorMicrons(),
          ErrorChain.of(stop, trace, raw, ms(decided - age)).totalMicrons());
    }
  }

  /** A policy that smooths over 100 ms reads the place of 50 ms before its newest sample. */
  @Test
  void theReadingOfAPolicyThatSmoothsBelongsToAnEarlierTime() {
    ErrorChain chain =
        ErrorChain.of(stop(530, 500, 640, 1000), trace(1000, 20, 10), 650, ms(980 - 50));
    assertEquals(new ErrorChain(670 - 650, 650 - 640, 640 - 500, -70, -10, -60), chain);
    assertEquals(30, chain.totalMicrons());
  }

  @Test
  void aSampleWithoutADistanceCountsAsSense() {
    ErrorChain chain = ErrorChain.of(stop(530, 500, 640, 1000), trace(1000, 20, 10), NOTHING, 0);
    assertEquals(new ErrorChain(620 - 640, 0, 640 - 500, -20, -10, -60), chain);
  }

  @Test
  void withoutAStopThereIsNothingToSplit() {
    assertEquals(
        ErrorChain.NONE, ErrorChain.of(SampleRun.refusal(0), trace(1000, 20, 10), 650, ms(980)));
    assertEquals(
        ErrorChain.NONE,
        ErrorChain.of(stop(530, 500, 640, 99_999), trace(1000, 20, 10), 650, ms(980)));
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

  private static byte[] trace(int decidedMs, int sampleAgeMs, int answerMs) {
    TraceRecorder recorder = new TraceRecorder();
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    Truth truth = new Truth();
    for (int ms = 0; ms < 2000; ms++) {
      in.sampleTimeNs = (ms - sampleAgeMs) * 1_000_000L;
      truth.remainingMicrons = 1600 - ms;
      truth.speedMilliRpm = ms < decidedMs + answerMs ? 100_000 : 89_000;
      recorder.add(ms * 1_000_000L, in, out, 0, truth);
    }
    return recorder.bytes();
  }
}
