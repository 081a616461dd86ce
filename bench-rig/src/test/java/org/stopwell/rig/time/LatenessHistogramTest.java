package org.stopwell.rig.time;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;

class LatenessHistogramTest {
  @Test
  void everyStepIsInOneClassAndAnEdgeBelongsBelow() {
    LatenessHistogram histogram = new LatenessHistogram();
    histogram.add(0);
    histogram.add(1_000);
    histogram.add(1_001);
    histogram.add(Long.MAX_VALUE);
    assertEquals(2, histogram.count(0));
    assertEquals(1, histogram.count(1));
    assertEquals(1, histogram.count(LatenessHistogram.CLASSES - 1));
    assertEquals(4, histogram.steps());
    assertEquals(Long.MAX_VALUE, histogram.worstNs());
  }

  @Test
  void aQuantileIsTheEdgeOfItsClassAndNeverBeyondTheWorst() {
    LatenessHistogram histogram = new LatenessHistogram();
    LongStream.rangeClosed(1, 1000).forEach(i -> histogram.add(i * 1_000));
    assertEquals(512_000, histogram.quantileNs(0.5));
    assertEquals(1_000_000, histogram.quantileNs(0.99));
    assertEquals(0, new LatenessHistogram().quantileNs(0.99));
  }

  @Test
  void twoLoopsAddUp() {
    LatenessHistogram one = new LatenessHistogram();
    LatenessHistogram other = new LatenessHistogram();
    one.add(5_000);
    other.add(9_000);
    one.add(other);
    assertEquals(2, one.steps());
    assertEquals(9_000, one.worstNs());
  }
}
