package org.stopwell.rig.adversary;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.FeedLimit;
import org.stopwell.core.settings.StageParameters;

/** Up to which feed a standoff protects: the table of docs/safety.md against the adversary. */
class FeedTableTest {
  private static final Path PAGE = Path.of("../docs/safety.md");
  private static final Pattern ROW =
      Pattern.compile("(?m)^\\| ([\\d.]+) \\| ([\\d.]+) \\| ([\\d.]+) \\|$");
  private static final int STARTS = AdversaryTest.STARTS;
  private static final int CLIMBS = 30;
  private static final double ROUNDING_MM = 0.006;
  private static final double NEAR_MM = 0.25;
  private static final Setup SETUP = Setup.of(Policy.RATIO, Stage.LENGTH);
  private static final FeedLimit LIMIT = FeedLimit.of(SETUP.settings(), Stage.LENGTH);

  @Test
  void theWorstStopErrorOfEveryFeedIsTheOneThatThePageStates() throws IOException {
    List<MatchResult> rows = ROW.matcher(Files.readString(PAGE)).results().toList();
    assertEquals(5, rows.size());
    for (MatchResult row : rows) {
      double feed = Double.parseDouble(row.group(1));
      double stated = Double.parseDouble(row.group(2));
      double bound = Double.parseDouble(row.group(3));
      double found = worstMm(SETUP, feed, Run.FREE);
      String what = feed + " mm/s: found " + found + " mm, stated " + stated + " mm";
      assertTrue(found <= stated + ROUNDING_MM && found > stated - NEAR_MM, what);
      assertTrue(stated <= bound, what);
      assertEquals(bound, LIMIT.noiseMicrons() * 1e-3 + feed * LIMIT.reactionNs() * 1e-9, 0.01);
    }
  }

  @Test
  void belowTheLimitNoHandBringsTheFilePastTheForamenAndBeyondItOneDoes() {
    double limit = LIMIT.micronsPerSecond(0) * 1e-3;
    double standoff = SETUP.settings().stage(Stage.LENGTH).get(StageParameters.STANDOFF) * 1e-3;
    assertTrue(worstMm(SETUP, limit, Run.FREE) < standoff);
    assertTrue(worstMm(SETUP, 1.5 * limit, Run.FREE) > standoff);
  }

  /** Past the standoff, mm. */
  private static double worstMm(Setup setup, double feedMmPerSecond, double micronsPerTurn) {
    Search search =
        new Search(
            setup,
            (s, scenario) -> List.of(new DepthCheck()),
            (s, scenario) ->
                new Run(s, scenario, Run.handReactionMs(s), micronsPerTurn, (in, nowNs) -> nowNs));
    int feed = (int) (feedMmPerSecond * 1_000);
    double deepest = search.least(AdversaryTest.SEED, List.of(Kind.BIAS), feed, STARTS, CLIMBS, 0);
    int standoff = setup.settings().stage(setup.stage()).getInt(StageParameters.STANDOFF);
    return (standoff - deepest) * 1e-3;
  }
}
