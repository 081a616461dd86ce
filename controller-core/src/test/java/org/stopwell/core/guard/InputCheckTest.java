package org.stopwell.core.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.function.ObjIntConsumer;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;

/** What a bench can send, to the last unit. */
class InputCheckTest {
  private static final long NOW_NS = 1_000_000_000;

  @Test
  void everyQuantityHasALimitThatIsStillPlausible() {
    bothWays((in, v) -> in.speedMilliRpm = v, 100_000_000);
    bothWays((in, v) -> in.torqueMicroNewtonMetres = v, 10_000_000);
    bothWays((in, v) -> in.currentMilliAmps = v, 1_000_000);
    bothWays((in, v) -> in.distanceMicrons = v, 100_000);
    bothWays(
        (in, v) -> {
          in.insertionPresent = true;
          in.insertionMicrons = v;
        },
        100_000);
    upwards((in, v) -> in.supplyMilliVolts = v, 0, 1_000_000);
    upwards((in, v) -> in.linkAgeNs = v, 0, Integer.MAX_VALUE - 1);
  }

  @Test
  void aRealPartMayLieBelowZeroByNoiseOnly() {
    ControllerInput in = new ControllerInput();
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = 1;
    in.frequencyHz[0] = 630;
    in.sampleTimeNs = NOW_NS;
    in.zRealMilliOhms[0] = -100_000;
    assertEquals(true, InputCheck.isPlausible(NOW_NS, in), "100 Ohm of offset at a short circuit");
    in.zRealMilliOhms[0]--;
    assertEquals(false, InputCheck.isPlausible(NOW_NS, in));
    in.zRealMilliOhms[0] = -1_000_000_000;
    in.zImagMilliOhms[0] = -1_733_000_000;
    assertEquals(true, InputCheck.isPlausible(NOW_NS, in), "noise on an open circuit");
    in.zImagMilliOhms[0] = -1_731_000_000;
    assertEquals(false, InputCheck.isPlausible(NOW_NS, in), "more than half of the magnitude");
    in.zRealMilliOhms[0] = Integer.MIN_VALUE;
    in.zImagMilliOhms[0] = Integer.MIN_VALUE;
    assertEquals(false, InputCheck.isPlausible(NOW_NS, in));
  }

  @Test
  void aDepthThatIsNotMeasuredIsNotLookedAt() {
    ControllerInput in = distance();
    in.insertionMicrons = 1_000_000;
    assertEquals(true, InputCheck.isPlausible(NOW_NS, in));
  }

  @Test
  void aSampleMaySeemToComeFromFiveMillisecondsAhead() {
    ControllerInput in = distance();
    in.sampleTimeNs = NOW_NS + 5_000_000;
    assertEquals(true, InputCheck.isPlausible(NOW_NS, in));
    in.sampleTimeNs++;
    assertEquals(false, InputCheck.isPlausible(NOW_NS, in));
    in.sampleTimeNs = Long.MAX_VALUE;
    assertEquals(false, InputCheck.isPlausible(-2, in), "the difference does not fit");
    in.sampleTimeNs = NOW_NS - Long.MAX_VALUE / 2;
    assertEquals(true, InputCheck.isPlausible(NOW_NS, in), "146 years ago");
    in.sampleTimeNs--;
    assertEquals(false, InputCheck.isPlausible(NOW_NS, in), "the next difference may not fit");
    in.sampleTimeNs = Long.MIN_VALUE;
    assertEquals(false, InputCheck.isPlausible(Long.MAX_VALUE, in), "the difference does not fit");
  }

  @Test
  void withoutAPositionNothingOfItIsLookedAt() {
    ControllerInput in = distance();
    in.positionKind = PositionKind.ABSENT;
    in.distanceMicrons = 1_000_000;
    in.sampleTimeNs = Long.MAX_VALUE;
    assertEquals(true, InputCheck.isPlausible(NOW_NS, in));
  }

  @Test
  void frequenciesAreOneToFourAndRise() {
    assertEquals(true, impedance(1));
    assertEquals(true, impedance(1, 2, 3, 4));
    assertEquals(false, impedance());
    assertEquals(false, impedance(0));
    assertEquals(false, impedance(700, 700));
    assertEquals(false, impedance(7_000, 700));
    ControllerInput in = distance();
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = 5;
    assertEquals(false, InputCheck.isPlausible(NOW_NS, in));
    in.frequencyCount = -1;
    assertEquals(false, InputCheck.isPlausible(NOW_NS, in));
  }

  @Test
  void theCountOfFrequenciesIsLookedAtInEveryKindOfSample() {
    for (PositionKind kind : PositionKind.values()) {
      ControllerInput in = impedanceFrame(700, 7_000);
      in.positionKind = kind;
      assertEquals(true, InputCheck.isPlausible(NOW_NS, in), kind.name());
      for (int count : new int[] {5, -1, Integer.MAX_VALUE, Integer.MIN_VALUE}) {
        in.frequencyCount = count;
        assertEquals(false, InputCheck.isPlausible(NOW_NS, in), kind + " " + count);
      }
    }
  }

  private static boolean impedance(int... hertz) {
    return InputCheck.isPlausible(NOW_NS, impedanceFrame(hertz));
  }

  private static ControllerInput impedanceFrame(int... hertz) {
    ControllerInput in = distance();
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = hertz.length;
    System.arraycopy(hertz, 0, in.frequencyHz, 0, hertz.length);
    return in;
  }

  private static void bothWays(ObjIntConsumer<ControllerInput> set, int limit) {
    upwards(set, -limit, limit);
  }

  private static void upwards(ObjIntConsumer<ControllerInput> set, int least, int most) {
    for (int value : new int[] {least, most}) {
      assertEquals(true, with(set, value), String.valueOf(value));
    }
    assertEquals(false, with(set, least - 1), String.valueOf(least - 1));
    if (most + 1 < Integer.MAX_VALUE) {
      assertEquals(false, with(set, most + 1), String.valueOf(most + 1));
    }
  }

  private static boolean with(ObjIntConsumer<ControllerInput> set, int value) {
    ControllerInput in = distance();
    set.accept(in, value);
    return InputCheck.isPlausible(NOW_NS, in);
  }

  private static ControllerInput distance() {
    ControllerInput in = new ControllerInput();
    in.positionKind = PositionKind.DISTANCE;
    return in;
  }
}
