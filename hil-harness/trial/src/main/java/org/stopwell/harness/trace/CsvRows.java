package org.stopwell.harness.trace;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.apache.commons.csv.DuplicateHeaderMode;

/** The rows of a CSV file, one after the other; memory holds one of them. */
final class CsvRows implements AutoCloseable {
  private final BoundedReader text;
  private final CSVParser parser;
  private final Iterator<CSVRecord> records;
  private long line = 1;

  CsvRows(Path file) throws IOException {
    CSVFormat format =
        CSVFormat.DEFAULT
            .builder()
            .setHeader()
            .setDuplicateHeaderMode(DuplicateHeaderMode.DISALLOW)
            .setSkipHeaderRecord(true)
            .setIgnoreSurroundingSpaces(true)
            .setIgnoreEmptyLines(true)
            .get();
    text = new BoundedReader(Files.newBufferedReader(file, StandardCharsets.UTF_8));
    try {
      parser = CSVParser.builder().setReader(text).setFormat(format).get();
    } catch (IOException | RuntimeException e) {
      text.close();
      throw e;
    }
    records = parser.iterator();
  }

  List<String> head() {
    return parser.getHeaderNames().stream().map(String::strip).toList();
  }

  boolean hasNext() {
    text.allowRow();
    return records.hasNext();
  }

  List<String> next() {
    CSVRecord row = records.next();
    line = row.getRecordNumber() + 1;
    List<String> cells = new ArrayList<>(row.size());
    for (String cell : row) {
      cells.add(cell.strip());
    }
    return cells;
  }

  /** The line of the row that {@link #next} gave last. */
  long line() {
    return line;
  }

  @Override
  public void close() throws IOException {
    parser.close();
  }
}
