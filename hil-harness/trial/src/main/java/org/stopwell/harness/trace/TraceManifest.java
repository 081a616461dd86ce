package org.stopwell.harness.trace;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;

/** Reads the manifest of a directory of traces: which tooth and fluid each file is of. */
final class TraceManifest {
  private static final String FILE = "file";
  private static final String TOOTH = "tooth";
  private static final String FLUID = "fluid";
  private static final String UNCERTAINTY = "length_u_mm";
  private static final String SIMULATED = "simulated";
  private static final int MOST_MISTAKES = 20;
  private static final int MOST_COLUMNS = 64;

  /** Largest standard uncertainty of a length, µm; assumed: a length read off by eye is better. */
  private static final int MOST_UNCERTAIN = 2_000;

  private static final Pattern NAME = Pattern.compile("[\\p{L}\\p{N}][\\p{L}\\p{N}%,._ +-]{0,59}");

  private final Path manifest;
  private final Map<String, Path> files;
  private final CsvRows rows;
  private final List<String> head;
  private final List<String> mistakes = new ArrayList<>();
  private final Map<String, TracedApproach> named = new TreeMap<>();
  private final List<String> unread = new ArrayList<>();
  private boolean simulated;

  private TraceManifest(Path manifest, Map<String, Path> files, CsvRows rows) {
    this.manifest = manifest;
    this.files = files;
    this.rows = rows;
    head = rows.head();
  }

  /**
   * Reads it.
   *
   * @param manifest the file
   * @param files the CSV files beside it, by name
   * @return what it says
   */
  static TraceManifest read(Path manifest, Map<String, Path> files) throws TraceException {
    return CsvTrace.guarded(
        manifest,
        rows -> {
          TraceManifest read = new TraceManifest(manifest, files, rows);
          read.all();
          return read;
        });
  }

  /** The traces by file name. */
  Map<String, TracedApproach> named() {
    return named;
  }

  /** Whether any row is marked as simulated. */
  boolean simulated() {
    return simulated;
  }

  /** Columns that have no meaning here. */
  List<String> unread() {
    return unread;
  }

  static boolean isName(String text) {
    return NAME.matcher(text).matches();
  }

  private void all() throws TraceException {
    if (!(head.size() <= MOST_COLUMNS && head.containsAll(List.of(FILE, TOOTH, FLUID)))) {
      throw new TraceException(
          List.of(
              manifest
                  + ":1: must have the columns file,tooth,fluid and at most "
                  + MOST_COLUMNS
                  + "; optional: "
                  + UNCERTAINTY
                  + " and "
                  + SIMULATED));
    }
    head.stream()
        .filter(c -> !List.of(FILE, TOOTH, FLUID, UNCERTAINTY, SIMULATED).contains(c))
        .map(CsvCheck::printable)
        .forEach(unread::add);
    while (mistakes.size() < MOST_MISTAKES && rows.hasNext()) {
      row(rows.next());
    }
    if (mistakes.isEmpty()) {
      files.forEach(
          (name, file) -> {
            if (!named.containsKey(name) && mistakes.size() < MOST_MISTAKES) {
              mistakes.add(
                  CsvCheck.printable(file.toString())
                      + ": not named in "
                      + TraceDirectory.MANIFEST
                      + "; add its row, or move the file elsewhere");
            }
          });
    }
    if (!mistakes.isEmpty()) {
      throw new TraceException(mistakes);
    }
  }

  private void row(List<String> cells) {
    if (cells.size() != head.size()) {
      wrong(cells.size() + " cells, the head has " + head.size());
      return;
    }
    String name = cells.get(head.indexOf(FILE));
    Path file = files.get(name);
    if (file == null) {
      wrong(FILE, name, "is not a CSV file of this directory");
      return;
    }
    int mark = head.indexOf(SIMULATED);
    if (mark >= 0 && !List.of("0", "1", "").contains(cells.get(mark))) {
      wrong(SIMULATED, cells.get(mark), "is not 0 or 1");
    }
    simulated |= mark >= 0 && cells.get(mark).equals("1");
    String tooth = name(cells, TOOTH);
    String fluid = name(cells, FLUID);
    TracedApproach approach = new TracedApproach(file, tooth, fluid, uncertainty(cells));
    if (named.putIfAbsent(name, approach) != null) {
      wrong(FILE, name, "is named twice");
    }
  }

  private String name(List<String> cells, String column) {
    String text = cells.get(head.indexOf(column));
    if (!isName(text)) {
      wrong(column, text, "is not a name: letters, digits, space and % , . _ + -, at most 60");
    }
    return text;
  }

  private int uncertainty(List<String> cells) {
    int at = head.indexOf(UNCERTAINTY);
    if (at < 0 || cells.get(at).isEmpty()) {
      return 0;
    }
    String text = cells.get(at);
    try {
      int microns = text.length() > 64 ? -1 : CsvNumber.scaled(text, 3);
      if (microns >= 0 && microns <= MOST_UNCERTAIN) {
        return microns;
      }
    } catch (ArithmeticException | NumberFormatException e) {
      // Not a number: the same message.
    }
    wrong(UNCERTAINTY, text, "is not a number from 0 to 2 mm");
    return 0;
  }

  private void wrong(String column, String text, String why) {
    String shown = text.length() > 80 ? text.substring(0, 80) + "…" : text;
    wrong(column + ": \"" + CsvCheck.printable(shown) + "\" " + why);
  }

  private void wrong(String what) {
    mistakes.add(manifest + ":" + rows.line() + ": " + what);
  }
}
