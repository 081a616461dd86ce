package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Collections;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.assess.AssessmentResult.Stop;

class LeakChartTest {
  /** A drawing stays light however long the assessment was, and says what share it shows. */
  @ParameterizedTest
  @CsvSource({"0, 0, all trials", "2000, 2000, all trials", "2001, 1001, one in 2 trials"})
  void noMoreTrialsAreDrawnThanCanBeTold(int trials, int drawn, String words) {
    List<Stop> all = Collections.nCopies(trials, new Stop(false, 100, 0, 0));
    Figure figure = LeakChart.of(all, 0.12, 0.6, "Figure 1 (simulated)");
    String picture = figure.drawings().get(0).svg();
    assertEquals(drawn, picture.split("h6v6", -1).length - 1);
    assertTrue(picture.contains(words) && figure.caption().contains(words), picture);
  }
}
