package org.stopwell.harness.export;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.stopwell.harness.record.TrialColumn;
import org.stopwell.harness.trial.TrialResult;

/**
 * Trials as CSV (RFC 4180, UTF-8, a line feed after each record): one header line with the names of
 * the columns, one line per trial in the order given. Numbers are whole, with the unit in the name;
 * flags are 0 and 1.
 */
public final class CsvFile {
  private CsvFile() {}

  /**
   * Writes the table.
   *
   * @param trials the trials
   * @param columns the columns
   * @return the text of the file
   */
  public static String of(List<TrialResult> trials, List<TrialColumn> columns) {
    StringBuilder out = new StringBuilder(200 * trials.size() + 400);
    try (CSVPrinter printer =
        new CSVPrinter(out, CSVFormat.DEFAULT.builder().setRecordSeparator('\n').get())) {
      printer.printRecord(columns.stream().map(TrialColumn::name));
      for (TrialResult trial : trials) {
        printer.printRecord(columns.stream().map(column -> column.value().apply(trial)));
      }
    } catch (IOException e) {
      throw new UncheckedIOException("memory does not fail", e);
    }
    return out.toString();
  }
}
