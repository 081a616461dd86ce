package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.stats.Proportion;

/**
 * The tables of docs/statistics.md. The short form runs here; {@code -Dstopwell.write=true} runs
 * the long one and writes it into the page.
 */
class ProveStatisticsTest {
  private static final Path PAGE = Path.of("..", "..", "docs", "statistics.md");
  private static final String BEGIN =
      "<!-- Simulated by stopwell prove-statistics: from here … -->\n";
  private static final String END = "<!-- … to here: prove-statistics -->\n";

  @Test
  void theTablesOnThePageAreOfTheseSettingsAndEveryRateIsAsPromised() throws IOException {
    String page = Files.readString(PAGE);
    int from = page.indexOf(BEGIN) + BEGIN.length();
    int to = page.indexOf(END);
    if (Boolean.getBoolean("stopwell.write")) {
      ErrorRates rates = new ErrorRates(ProveStatisticsCommand.SEED, ProveStatisticsCommand.LONG);
      assertEquals(List.of(), rates.tooHigh());
      Files.writeString(PAGE, page.substring(0, from) + rates.tables() + page.substring(to));
      return;
    }
    ErrorRates rates = new ErrorRates(ProveStatisticsCommand.SEED, ProveStatisticsCommand.SHORT);
    assertEquals(List.of(), rates.tooHigh());
    // The numbers of the short form differ; all else, and the exact numbers, are the same.
    List<String> written = page.substring(from, to).lines().toList();
    List<String> found = rates.tables().lines().toList();
    assertEquals(found.size(), written.size());
    for (int i = 0; i < found.size(); i++) {
      String line = found.get(i);
      String onPage = written.get(i);
      if (line.matches("\\| \\d+ (\\| [\\d.]+ ){5}\\|")) {
        String[] cells = onPage.split("\\|", -1);
        assertEquals(line.split("\\|", -1)[1], cells[1]);
        for (int c = 2; c < 7; c++) {
          double rate = Double.parseDouble(cells[c].strip());
          // Four standard errors of 10,000 campaigns at 5 %.
          assertTrue(rate >= 0 && rate <= 5.88, onPage);
        }
      } else if (line.matches("\\| [\\d.]+ \\| \\d+ \\| [\\d.]+ \\| \\d+ \\| [\\d.]+ \\|")) {
        int last = line.lastIndexOf("| 0.");
        assertEquals(line.substring(0, last), onPage.substring(0, last));
        assertTrue(Double.parseDouble(onPage.substring(last + 2, last + 7)) >= 0.88, onPage);
      } else if (!line.startsWith("**")) {
        assertEquals(line, onPage);
      }
    }
  }

  /** Too many errors are told from chance: a rate of 30 % with a promise of 5 %. */
  @Test
  void aRateAboveThePromisedOneIsNamed() {
    assertTrue(ErrorRates.isTooHigh(new Proportion(150, 500), 0.05));
    assertFalse(ErrorRates.isTooHigh(new Proportion(40, 500), 0.05));
    assertTrue(ErrorRates.isTooHigh(new Proportion(600, 10_000), 0.05));
  }
}
