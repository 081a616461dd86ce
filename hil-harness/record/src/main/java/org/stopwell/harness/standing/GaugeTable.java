package org.stopwell.harness.standing;

import java.io.IOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.stopwell.harness.stats.AverageRange;
import org.stopwell.harness.stats.GaugeStudy;
import org.stopwell.harness.stats.Moments;
import org.stopwell.rig.proof.GaugeRun;

/**
 * The readings of a crossed gauge study as a table: {@code part,appraiser,reading_UNIT}, one
 * reading a line, in any order.
 *
 * @param unit unit of the readings as the head of their column says, empty when it says none
 * @param parts names of the parts
 * @param appraisers names of the appraisers
 * @param thousandths readings by part, by appraiser, by repeat, thousandths of the unit; full
 */
public record GaugeTable(
    String unit, List<String> parts, List<String> appraisers, List<List<List<Long>>> thousandths) {
  private static final String READING = "reading";

  /** Copies names and readings. */
  public GaugeTable {
    parts = List.copyOf(parts);
    appraisers = List.copyOf(appraisers);
    thousandths = List.copyOf(thousandths);
  }

  /**
   * The table of a study of a bench.
   *
   * @param run its readings
   * @return the table, in µm
   */
  public static GaugeTable of(GaugeRun run) {
    return new GaugeTable(
        "um",
        GaugeRun.PLACES_MICRONS.stream()
            .map(p -> BigDecimal.valueOf(p, 3).stripTrailingZeros().toPlainString() + " mm")
            .toList(),
        run.appraisers(),
        run.nanometres());
  }

  /**
   * Reads a table.
   *
   * @param text CSV with a head
   * @return the table
   * @throws IllegalArgumentException with every mistake, each with its line
   */
  public static GaugeTable read(String text) {
    List<String> mistakes = new ArrayList<>();
    Map<String, Map<String, List<Long>>> cells = new LinkedHashMap<>();
    List<String> appraisers = new ArrayList<>();
    String unit = "";
    try (CSVParser rows =
        CSVFormat.DEFAULT
            .builder()
            .setIgnoreSurroundingSpaces(true)
            .setIgnoreEmptyLines(true)
            .get()
            .parse(new java.io.StringReader(text))) {
      for (CSVRecord row : rows) {
        if (row.getRecordNumber() == 1) {
          boolean head =
              row.size() == 3
                  && row.get(0).equals("part")
                  && row.get(1).equals("appraiser")
                  && (row.get(2).equals(READING) || row.get(2).startsWith(READING + "_"));
          if (!head) {
            throw new IllegalArgumentException(
                "line 1: the head must be part,appraiser,reading_UNIT, such as reading_um");
          }
          unit = row.get(2).equals(READING) ? "" : row.get(2).substring(READING.length() + 1);
        } else if (row.size() != 3 || row.get(0).isEmpty() || row.get(1).isEmpty()) {
          mistakes.add("line " + rows.getCurrentLineNumber() + ": not part, appraiser, reading");
        } else {
          if (!appraisers.contains(row.get(1))) {
            appraisers.add(row.get(1));
          }
          cells
              .computeIfAbsent(row.get(0), p -> new LinkedHashMap<>())
              .computeIfAbsent(row.get(1), a -> new ArrayList<>())
              .add(reading(row.get(2), rows.getCurrentLineNumber(), mistakes));
        }
      }
    } catch (IOException e) {
      throw new IllegalArgumentException("not CSV: " + e.getMessage(), e);
    }
    List<List<List<Long>>> table = new ArrayList<>();
    int repeats =
        cells.isEmpty() ? 0 : cells.values().iterator().next().values().iterator().next().size();
    cells.forEach(
        (part, by) -> {
          List<List<Long>> row = new ArrayList<>();
          for (String appraiser : appraisers) {
            List<Long> cell = by.getOrDefault(appraiser, List.of());
            if (cell.size() != repeats) {
              mistakes.add(
                  part
                      + ", "
                      + appraiser
                      + ": "
                      + cell.size()
                      + " readings, the first pair has "
                      + repeats);
            }
            row.add(cell);
          }
          table.add(row);
        });
    if (cells.size() < 2 || appraisers.size() < 2 || repeats < 2) {
      mistakes.add(
          cells.size()
              + " parts, "
              + appraisers.size()
              + " appraisers, "
              + repeats
              + " readings of each pair: 2 or more of each are needed");
    }
    if (!mistakes.isEmpty()) {
      throw new IllegalArgumentException(String.join("\n", mistakes));
    }
    return new GaugeTable(unit, List.copyOf(cells.keySet()), appraisers, table);
  }

  private static long reading(String text, long line, List<String> mistakes) {
    try {
      return new BigDecimal(text).movePointRight(3).longValueExact();
    } catch (NumberFormatException | ArithmeticException e) {
      mistakes.add("line " + line + ": " + text + " is not a number of at most 3 decimals");
      return 0;
    }
  }

  /**
   * The file that reads as this table.
   *
   * @return CSV
   */
  public String csv() {
    StringBuilder out = new StringBuilder("part,appraiser,reading");
    out.append(unit.isEmpty() ? "" : "_" + unit).append('\n');
    for (int a = 0; a < appraisers.size(); a++) {
      for (int p = 0; p < parts.size(); p++) {
        for (long reading : thousandths.get(p).get(a)) {
          out.append(quoted(parts.get(p))).append(',').append(quoted(appraisers.get(a)));
          out.append(',').append(BigDecimal.valueOf(reading, 3).toPlainString()).append('\n');
        }
      }
    }
    return out.toString();
  }

  private static String quoted(String name) {
    return name.matches("[^,\"\r\n]*") ? name : '"' + name.replace("\"", "\"\"") + '"';
  }

  /**
   * Analysis of variance.
   *
   * @return the study; variances in thousandths of the unit, squared
   */
  public GaugeStudy variance() {
    return GaugeStudy.of(
        thousandths.stream()
            .map(
                row ->
                    row.stream()
                        .map(cell -> Moments.of(cell.stream().mapToLong(Long::longValue)))
                        .toList())
            .toList());
  }

  /**
   * Averages and ranges.
   *
   * @return the study, in the unit; empty for a size for which there are no constants
   */
  public java.util.Optional<AverageRange> averageRange() {
    return AverageRange.of(
        thousandths.stream()
            .map(row -> row.stream().map(cell -> cell.stream().map(t -> t / 1e3).toList()).toList())
            .toList());
  }
}
