package org.stopwell.harness.export;

import java.util.List;
import java.util.stream.Collectors;
import org.stopwell.harness.record.TrialColumn;
import org.stopwell.harness.trial.TrialResult;

/**
 * Trials as CSV (RFC 4180, UTF-8, a line feed after each record): one header line with the names of
 * {@link TrialColumn#ALL}, one line per trial in the order given. Numbers are whole, with the unit
 * in the name; flags are 0 and 1.
 */
public final class CsvFile {
  private CsvFile() {}

  /**
   * Writes the table.
   *
   * @param trials the trials
   * @return the text of the file
   */
  public static String of(List<TrialResult> trials) {
    StringBuilder out = new StringBuilder(200 * trials.size() + 400);
    out.append(
        TrialColumn.ALL.stream().map(TrialColumn::name).collect(Collectors.joining(",")));
    out.append('\n');
    for (TrialResult trial : trials) {
      String separator = "";
      for (TrialColumn column : TrialColumn.ALL) {
        out.append(separator).append(field(column.value().apply(trial).toString()));
        separator = ",";
      }
      out.append('\n');
    }
    return out.toString();
  }

  private static String field(String text) {
    boolean plain =
        text.chars().noneMatch(c -> c == ',' || c == '"' || c == '\n' || c == '\r')
            && text.equals(text.strip());
    return plain ? text : '"' + text.replace("\"", "\"\"") + '"';
  }
}
