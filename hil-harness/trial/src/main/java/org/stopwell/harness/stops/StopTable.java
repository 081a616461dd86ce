package org.stopwell.harness.stops;

import java.io.IOException;
import java.io.StringReader;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Pattern;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.stopwell.harness.plan.StopPlan;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.harness.trial.DeviceTrial;

/**
 * A table of stops that were measured elsewhere: a CSV file with one row for each trial. Cells are
 * separated by commas with a decimal point, or by semicolons with a decimal comma.
 */
public final class StopTable {
  /** The columns that a table must have, in the order of the template. */
  public static final List<String> COLUMNS =
      List.of(
          "tooth",
          "device",
          "unit",
          "operator",
          "setting",
          "feed_mm_per_s",
          "resting_mm",
          "deepest_mm",
          "turned_until_mm",
          "valid",
          "why");

  /** The columns that a table may have. */
  public static final List<String> OPTIONAL =
      List.of("repeat", "date", "order", "constriction_mm", "constriction_u95_mm");

  /** Most rows, as a campaign has trials. */
  private static final int MOST_ROWS = 1_000_000;

  private static final int MOST_MISTAKES = 100;

  /** Farthest past the foramen and short of it, µm; assumed: no canal is longer. */
  private static final Range DISTANCE = new Range(-6_000, 30_000);

  private static final Range FEED = new Range(10, 10_000);

  private static final Range CONSTRICTION = new Range(1, 3_000);

  private static final Range CONSTRICTION_BOUND =
      new Range(1, StopPlan.MOST_CONSTRICTION_BOUND_MICRONS);

  private static final Pattern CODE = Pattern.compile("[A-Za-z0-9][A-Za-z0-9._+-]{0,19}");
  private static final Pattern NUMBER = Pattern.compile("-?[0-9]{1,3}([.][0-9]{1,6})?");
  private static final Pattern WHOLE = Pattern.compile("[1-9][0-9]{0,6}");

  private final String file;
  private final StopPlan plan;
  private final List<String> mistakes = new ArrayList<>();
  private final List<StopRow> rows = new ArrayList<>();
  private final Map<String, Integer> seen = new HashMap<>();
  private final TreeMap<Integer, Integer> order = new TreeMap<>();
  private List<String> head = List.of();
  private char separator = ',';

  /** The row that is read: its cells, its line and its text. */
  private List<String> cells = List.of();

  private int line;
  private String text = "";

  private record Range(int low, int high) {
    String words() {
      return mm(low) + " to " + mm(high);
    }
  }

  /**
   * What a table says.
   *
   * @param rows in the order of the trials
   * @param sha256 SHA-256 of the file, 64 hexadecimal digits
   * @param separated what separates its cells, in words
   */
  public record Read(List<StopRow> rows, String sha256, String separated) {
    /** Takes a copy. */
    public Read {
      rows = List.copyOf(rows);
    }
  }

  private StopTable(String file, StopPlan plan) {
    this.file = file;
    this.plan = plan;
  }

  /**
   * Reads and checks a table.
   *
   * @param path the CSV file
   * @param plan its plan
   * @return its rows
   * @throws TraceException with all mistakes, each as {@code file:line:column}
   */
  public static Read read(Path path, StopPlan plan) throws TraceException {
    byte[] bytes = StopTableFile.bytes(path);
    StopTable table = new StopTable(path.toString(), plan);
    table.all(StopTableFile.text(path, bytes));
    if (!table.mistakes.isEmpty()) {
      throw new TraceException(table.mistakes);
    }
    return new Read(
        table.ordered(),
        StopTableFile.sha256(bytes),
        table.separator == ';'
            ? "semicolons, with a comma or a point in numbers"
            : "commas, with a point in numbers");
  }

  private void all(String whole) {
    List<String> lines = whole.lines().toList();
    boolean headed = false;
    for (int i = 0; i < lines.size() && mistakes.size() < MOST_MISTAKES; i++) {
      line = i + 1;
      text = lines.get(i);
      if (text.isBlank() || text.startsWith("#")) {
        continue;
      }
      if (!headed) {
        headed = true;
        separator = text.indexOf(';') >= 0 && text.indexOf(',') < 0 ? ';' : ',';
        if (!split() || !head()) {
          return;
        }
      } else if (rows.size() >= MOST_ROWS) {
        mistakes.add(file + ":" + line + ": more than " + MOST_ROWS + " rows");
        return;
      } else if (split()) {
        row();
      }
    }
    if (!headed) {
      mistakes.add(file + ": has no header; it must name the columns " + names(COLUMNS));
    } else if (mistakes.isEmpty() && rows.isEmpty()) {
      mistakes.add(file + ": has no row; it must have at least 1");
    }
    if (mistakes.isEmpty()) {
      counts();
    }
    if (mistakes.size() >= MOST_MISTAKES) {
      mistakes.add(file + ": the rest was not read; correct these mistakes first");
    }
  }

  private boolean split() {
    CSVFormat format =
        CSVFormat.DEFAULT.builder().setDelimiter(separator).setIgnoreSurroundingSpaces(true).get();
    try (CSVParser parser =
        CSVParser.builder().setReader(new StringReader(text)).setFormat(format).get()) {
      List<CSVRecord> records = parser.getRecords();
      cells = records.isEmpty() ? List.of("") : records.get(0).stream().map(String::strip).toList();
      return true;
    } catch (IOException | RuntimeException e) {
      mistakes.add(file + ":" + line + ": the quotes of this line do not match");
      return false;
    }
  }

  private boolean head() {
    head = cells;
    Set<String> before = new TreeSet<>();
    for (int i = 0; i < head.size(); i++) {
      String name = head.get(i);
      if (!COLUMNS.contains(name) && !OPTIONAL.contains(name)) {
        wrong(
            i,
            "\""
                + printable(name)
                + "\" is no column of a table of stops; allowed are "
                + names(COLUMNS)
                + ", and if needed "
                + names(OPTIONAL));
      } else if (!before.add(name)) {
        wrong(i, name + " stands twice");
      }
    }
    List<String> missing = COLUMNS.stream().filter(c -> !head.contains(c)).toList();
    if (!missing.isEmpty()) {
      mistakes.add(file + ":" + line + ": the header lacks " + names(missing));
    }
    return mistakes.isEmpty();
  }

  private void row() {
    if (cells.size() != head.size()) {
      mistakes.add(
          file
              + ":"
              + line
              + ": "
              + cells.size()
              + " cells, the header has "
              + head.size()
              + (separator == ','
                  ? "; a decimal comma needs semicolons between the cells, also in the header"
                  : ""));
      return;
    }
    int before = mistakes.size();
    String tooth = code("tooth");
    String device = code("device");
    String unit = code("unit");
    String operator = code("operator");
    String setting = code("setting");
    if (!setting.isEmpty() && !plan.standoffMicrons().containsKey(setting)) {
      wrong(
          "setting",
          "\""
              + setting
              + "\" has no distance; add it to standoff_mm of "
              + plan.source().name()
              + ", which states "
              + names(List.copyOf(plan.standoffMicrons().keySet())));
    }
    if (!plan.devices().isEmpty() && !device.isEmpty() && !plan.devices().contains(device)) {
      wrong("device", "\"" + device + "\" is none of the plan's devices " + names(plan.devices()));
    }
    boolean valid = word("valid", List.of("yes", "no")).equals("yes");
    StopEnd end = end(valid);
    boolean stopped = end == StopEnd.STOPPED;
    int feed = number("feed_mm_per_s", FEED, "mm/s", false);
    int resting = number("resting_mm", DISTANCE, "mm", stopped);
    int deepest = number("deepest_mm", DISTANCE, "mm", valid);
    int turned = number("turned_until_mm", DISTANCE, "mm", stopped);
    int constriction = number("constriction_mm", CONSTRICTION, "mm", false);
    int bound = constrictionBound(constriction);
    if (valid && !stopped) {
      empty("resting_mm", end);
      empty("turned_until_mm", end);
    }
    if (stopped && mistakes.size() == before) {
      if (deepest > resting) {
        wrong(
            "deepest_mm", mm(deepest) + " mm is less deep than resting_mm, " + mm(resting) + " mm");
      }
      if (deepest > turned) {
        wrong(
            "deepest_mm",
            mm(deepest) + " mm is less deep than turned_until_mm, " + mm(turned) + " mm");
      }
    }
    String repeat = whole("repeat");
    int place = place();
    Optional<LocalDate> date = date();
    if (mistakes.size() > before) {
      return;
    }
    String trial = String.join(" ", device, unit, operator, setting, tooth, feed + "", repeat);
    Integer same = seen.putIfAbsent(trial, line);
    if (same != null) {
      mistakes.add(
          file
              + ":"
              + line
              + ": the same tooth, device, unit, operator, setting, feed and repeat as line "
              + same
              + "; number trials on one tooth in the column repeat");
      return;
    }
    if (place > 0) {
      Integer other = order.putIfAbsent(place, rows.size());
      if (other != null) {
        wrong("order", place + " stands on line " + rows.get(other).line() + " as well");
      }
    }
    rows.add(
        new StopRow(
            line,
            device,
            setting,
            new DeviceTrial(tooth, unit, operator, feed, stopped ? turned : 0, constriction, bound),
            end,
            stopped ? resting : 0,
            valid ? deepest : 0,
            date));
  }

  /** U95 of the place of a constriction: that of the row, else that of the plan. */
  private int constrictionBound(int constriction) {
    int own = number("constriction_u95_mm", CONSTRICTION_BOUND, "mm", false);
    if (own > 0 && constriction == 0) {
      wrong("constriction_u95_mm", "must be empty where constriction_mm is empty");
    }
    return constriction == 0 ? 0 : own > 0 ? own : plan.constrictionBoundMicrons();
  }

  private StopEnd end(boolean valid) {
    String word = cell("why");
    for (StopEnd end : StopEnd.values()) {
      if (end.key().equals(word) && end.valid() == valid) {
        return end;
      }
    }
    wrong(
        "why",
        (word.isEmpty() ? "is empty" : "\"" + printable(word) + "\" is no cause")
            + " in a row with valid "
            + (valid ? "yes" : "no")
            + "; "
            + (valid ? "leave it empty for a stop, or write " : "write ")
            + names(StopEnd.keys(valid)));
    return valid ? StopEnd.NO_START : StopEnd.NOT_DONE;
  }

  /** Every condition has the planned number of rows, where the plan states it. */
  private void counts() {
    Map<String, Integer> found = new TreeMap<>();
    rows.forEach(r -> found.merge(r.condition(), 1, Integer::sum));
    List<String> due = new ArrayList<>(found.keySet());
    for (String device : plan.devices()) {
      plan.standoffMicrons().keySet().stream()
          .map(s -> device + "/" + s)
          .filter(c -> !found.containsKey(c))
          .forEach(due::add);
    }
    if (plan.trials() > 0) {
      for (String condition : due) {
        int n = found.getOrDefault(condition, 0);
        if (n != plan.trials()) {
          mistakes.add(
              file
                  + ": "
                  + n
                  + " rows of device and setting "
                  + condition
                  + ", the plan has trials: "
                  + plan.trials()
                  + (n < plan.trials()
                      ? "; add each trial that was not done with valid no and why not_done"
                      : ""));
        }
      }
    }
    if (!order.isEmpty() && order.size() != rows.size()) {
      mistakes.add(file + ": the column order is filled in some rows only");
    }
  }

  private List<StopRow> ordered() {
    return order.isEmpty() ? rows : order.values().stream().map(rows::get).toList();
  }

  private String cell(String column) {
    int at = head.indexOf(column);
    return at < 0 ? "" : cells.get(at);
  }

  private String code(String column) {
    String word = cell(column);
    if (!CODE.matcher(word).matches()) {
      wrong(
          column,
          (word.isEmpty() ? "is empty" : "\"" + printable(word) + "\" is no code")
              + "; a code has 1 to 20 letters, digits and . _ + - and identifies no person");
      return "";
    }
    return word;
  }

  private String word(String column, List<String> allowed) {
    String word = cell(column);
    if (!allowed.contains(word)) {
      wrong(column, "\"" + printable(word) + "\" is none of " + names(allowed));
    }
    return word;
  }

  private int number(String column, Range range, String unit, boolean required) {
    String word = cell(column);
    if (word.isEmpty()) {
      if (required) {
        wrong(column, "is empty; a number from " + range.words() + " " + unit + " is required");
      }
      return 0;
    }
    String plain = separator == ';' ? word.replace(',', '.') : word;
    if (!NUMBER.matcher(plain).matches()) {
      wrong(
          column,
          "\""
              + printable(word)
              + "\" is not a number from "
              + range.words()
              + " "
              + unit
              + " with at most 6 decimals");
      return 0;
    }
    int thousandths =
        new BigDecimal(plain).movePointRight(3).setScale(0, RoundingMode.HALF_EVEN).intValueExact();
    if (!(thousandths >= range.low() && thousandths <= range.high())) {
      wrong(column, word + " " + unit + ", must be " + range.words() + " " + unit);
    }
    return thousandths;
  }

  private void empty(String column, StopEnd end) {
    if (!cell(column).isEmpty()) {
      wrong(column, "must be empty where why is " + end.key());
    }
  }

  private String whole(String column) {
    String word = cell(column);
    if (!word.isEmpty() && !WHOLE.matcher(word).matches()) {
      wrong(column, "\"" + printable(word) + "\" is not a whole number from 1 to 9999999");
    }
    return word;
  }

  private int place() {
    String word = whole("order");
    return WHOLE.matcher(word).matches() ? Integer.parseInt(word) : 0;
  }

  private Optional<LocalDate> date() {
    String word = cell("date");
    if (word.isEmpty()) {
      return Optional.empty();
    }
    try {
      return Optional.of(LocalDate.parse(word));
    } catch (DateTimeException e) {
      wrong("date", "\"" + printable(word) + "\" is not a date such as 2026-03-31");
      return Optional.empty();
    }
  }

  private void wrong(String column, String why) {
    wrong(head.indexOf(column), column + ": " + why);
  }

  /** The column is that of the first character of the cell, from 1, as editors count. */
  private void wrong(int cell, String why) {
    int column = 0;
    boolean quoted = false;
    for (int left = cell; column < text.length() && left > 0; column++) {
      char c = text.charAt(column);
      quoted ^= c == '"';
      left -= !quoted && c == separator ? 1 : 0;
    }
    mistakes.add(file + ":" + line + ":" + (column + 1) + ": " + why);
  }

  private static String names(List<String> names) {
    return String.join(", ", names);
  }

  private static String mm(int microns) {
    return BigDecimal.valueOf(microns, 3).stripTrailingZeros().toPlainString();
  }

  /** What a stranger wrote, without what moves a terminal. */
  private static String printable(String text) {
    String shown = text.length() > 60 ? text.substring(0, 60) + "…" : text;
    return shown.replaceAll("\\p{C}", "\uFFFD");
  }
}
