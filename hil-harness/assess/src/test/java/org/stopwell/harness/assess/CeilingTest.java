package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.population.Population.Fill;

class CeilingTest {
  /** Of distances spread evenly over the last millimetre: what always saying 0.5 mm would miss. */
  private static final double GUESS_MM = 1 / Math.sqrt(12);

  @Test
  void whoLearnsTheVeryNetworkFindsTheDistanceEvenFromFewCanalsAndWorseInAFloodedOne() {
    List<Ceiling.Row> rows = new Ceiling(200, line -> {}).rows();
    assertEquals(12, rows.size());
    for (Ceiling.Row row : rows) {
      assertTrue(row.n() > 150, row::text);
      assertTrue(row.within() > 0.4 && row.within() <= 1, row::text);
      assertTrue(row.rmsMm() > 0.1 && row.rmsMm() < 3 * GUESS_MM, row::text);
    }
    Ceiling.Row halfWet = row(rows, Fill.HALF_WET);
    Ceiling.Row flooded = row(rows, Fill.FLOODED);
    assertTrue(flooded.rmsMm() > halfWet.rmsMm(), () -> halfWet.text() + flooded.text());
  }

  private static Ceiling.Row row(List<Ceiling.Row> rows, Fill fill) {
    return rows.stream()
        .filter(row -> row.features() == Ceiling.Features.READINGS)
        .filter(row -> row.kind().equals("tooth") && row.fill() == fill)
        .findFirst()
        .orElseThrow();
  }
}
