package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Collections;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LeakChartTest {
  /** A drawing stays light however long the assessment was, and says what share it shows. */
  @ParameterizedTest
  @CsvSource({"0, 0, all trials", "2000, 2000, all trials", "2001, 1001, one in 2 trials"})
  void noMoreTrialsAreDrawnThanCanBeTold(int trials, int drawn, String words) {
    VisitOutcome refused = new VisitOutcome(false, false, 0, false, false, false, 0, 100, 1);
    List<VisitOutcome> all = Collections.nCopies(trials, refused);
    String picture = LeakChart.of(all, 0.12, 0.6);
    assertEquals(drawn, picture.split("r=\"2\"", -1).length - 1);
    assertTrue(picture.contains(words));
  }
}
