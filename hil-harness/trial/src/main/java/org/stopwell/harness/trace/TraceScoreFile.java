package org.stopwell.harness.trace;

import java.io.IOException;
import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** Scores trace by trace, for other programs. */
public final class TraceScoreFile {
  private TraceScoreFile() {}

  /**
   * The values of a score, by name. Lengths are in mm.
   *
   * @param score the score
   * @return texts, numbers and truth values; no value where there is none
   */
  public static Map<String, Object> values(TraceScore score) {
    boolean read = score.readingMicrons().isPresent();
    Map<String, Object> values = new LinkedHashMap<>();
    values.put("file", String.valueOf(score.approach().file().getFileName()));
    values.put("tooth", score.approach().tooth());
    values.put("fluid", score.approach().fluid());
    values.put("outcome", score.outcome().name());
    values.put("driven", score.driven());
    values.put("reason", score.reason().name());
    values.put("trust", score.trust().name());
    values.put("cause", score.cause().name());
    values.put("time_ms", BigDecimal.valueOf(score.endNs() / 1_000, 3));
    values.put("true_mm", mm(score.truthMicrons()));
    if (read) {
      values.put("reading_mm", mm(score.readingMicrons().getAsInt()));
      values.put("reading_error_mm", mm(score.readingErrorMicrons()));
    }
    if (read && score.boundMicrons() > 0) {
      values.put("bound_mm", mm(score.boundMicrons()));
    }
    if (score.bounded()) {
      values.put("covered", score.covered());
    }
    values.put("past_foramen", score.past());
    if (score.stopped()) {
      values.put("rest_mm", mm(score.restMicrons()));
      values.put("stop_error_mm", mm(score.errorMicrons()));
      values.put("within_tolerance", score.within(1));
    }
    return values;
  }

  private static final List<String> COLUMNS =
      List.of(
          "file",
          "tooth",
          "fluid",
          "outcome",
          "driven",
          "reason",
          "trust",
          "cause",
          "time_ms",
          "true_mm",
          "reading_mm",
          "reading_error_mm",
          "bound_mm",
          "covered",
          "past_foramen",
          "rest_mm",
          "stop_error_mm",
          "within_tolerance");

  /**
   * Writes one row for each score.
   *
   * @param scores the scores
   * @param to receives CSV
   * @throws IOException when it cannot be written
   */
  public static void write(List<TraceScore> scores, Appendable to) throws IOException {
    CSVPrinter printer =
        new CSVPrinter(to, CSVFormat.DEFAULT.builder().setRecordSeparator('\n').get());
    printer.printRecord(COLUMNS);
    for (TraceScore score : scores) {
      Map<String, Object> values = values(score);
      printer.printRecord(COLUMNS.stream().map(c -> values.getOrDefault(c, "")).toList());
    }
  }

  private static BigDecimal mm(int microns) {
    return BigDecimal.valueOf(microns, 3);
  }
}
