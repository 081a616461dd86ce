package org.stopwell.harness.plan;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;

/** The calibrations of one bench as a file for people and for {@code run}. */
public final class CalibrationFile {
  private static final ParameterTable HEAD =
      new ParameterTable(
          List.of(
              Parameter.of("calibration")
                  .range("1", "1")
                  .initially("1")
                  .required()
                  .text("File format, always 1.")
                  .source("assumed")));

  private static final Parameter COVERAGE =
      Parameter.of("k")
          .decimals(3)
          .range("1", "10")
          .initially("2")
          .required()
          .text("Coverage factor of the reference's uncertainty.")
          .source("the certificate; 2 is usual");

  private static final Parameter TEMPERATURE =
      Parameter.of("temperature_c")
          .unit("°C", 3)
          .range("-40", "80")
          .initially("20")
          .required()
          .text("Room temperature.")
          .source("a thermometer beside the bench");

  private static final Parameter SIMULATED =
      Parameter.of("simulated")
          .flag(false)
          .text("Whether the readings come from a model instead of hardware.")
          .source("assumed");

  /** Largest reading in its unit; a larger value is a typing error. */
  private static final BigDecimal LARGEST = BigDecimal.valueOf(1_000_000);

  private CalibrationFile() {}

  /**
   * Reads and checks a file of calibrations.
   *
   * @param source the file
   * @return what it says
   * @throws PlanException with every mistake in it
   */
  public static Calibrations read(Source source) throws PlanException {
    Mistakes mistakes = new Mistakes(source.name());
    Yaml.Mapping top = source.top(mistakes);
    if (top.entries().isEmpty()) {
      mistakes.throwIfAny();
    }
    Sections.resolve(top, "", HEAD, Set.of("bench", "records"), mistakes);
    String bench = FreeText.required(top, "bench", mistakes);
    List<CalibrationRecord> records = new ArrayList<>();
    Yaml.Entry list = top.entries().get("records");
    if (list != null && list.value() instanceof Yaml.Items items) {
      for (Yaml item : items.items()) {
        if (item instanceof Yaml.Mapping one) {
          CalibrationRecord record = record(one, mistakes);
          if (record != null) {
            records.add(record);
          }
        } else {
          mistakes.add(item.line(), "records", item.notA("a group of keys"));
        }
      }
    } else {
      mistakes.add(list == null ? top.line() : list.line(), "records", "missing: a list");
    }
    mistakes.throwIfAny();
    return new Calibrations(bench, records);
  }

  private static @Nullable CalibrationRecord record(Yaml.Mapping at, Mistakes mistakes) {
    Quantity quantity = quantity(at, mistakes);
    if (quantity == null) {
      return null;
    }
    String path = "records." + quantity.key();
    String readings = "readings_" + quantity.unit();
    Parameter uncertainty = uncertainty(quantity);
    Set<String> words =
        Set.of(
            "quantity", readings, "instrument", "certificate", "date", "due", "operator", "setup");
    int before = mistakes.all().size();
    ParameterValues values =
        Sections.resolve(
            at,
            path,
            new ParameterTable(List.of(uncertainty, COVERAGE, TEMPERATURE, SIMULATED)),
            words,
            mistakes);
    List<Long> read = readings(at, path, readings, mistakes);
    LocalDate date = Dates.required(at, path, "date", mistakes);
    LocalDate due = Dates.required(at, path, "due", mistakes);
    if (date.isAfter(due)) {
      mistakes.add(at.line(), path + ".due", due + " comes before date " + date);
    }
    String instrument = FreeText.required(at, "instrument", mistakes);
    String certificate = FreeText.required(at, "certificate", mistakes);
    String operator = FreeText.required(at, "operator", mistakes);
    if (mistakes.all().size() > before) {
      return null;
    }
    return new CalibrationRecord(
        quantity,
        read,
        instrument,
        certificate,
        values.get(uncertainty),
        values.get(COVERAGE),
        date,
        due,
        values.getInt(TEMPERATURE),
        operator,
        values.get(SIMULATED) == 1,
        FreeText.optional(at, "setup", mistakes));
  }

  private static Parameter uncertainty(Quantity quantity) {
    return Parameter.of("uncertainty_" + quantity.unit())
        .unit(quantity.sign(), 3)
        .range("0", "100000")
        .initially("0")
        .required()
        .text("Expanded uncertainty of the reference.")
        .source("its certificate");
  }

  private static @Nullable Quantity quantity(Yaml.Mapping at, Mistakes mistakes) {
    String word = FreeText.required(at, "quantity", mistakes);
    Set<String> keys = new TreeSet<>();
    for (Quantity quantity : Quantity.values()) {
      if (quantity.key().equals(word)) {
        return quantity;
      }
      keys.add(quantity.key());
    }
    if (!word.isEmpty()) {
      mistakes.add(
          at.line(),
          "records.quantity",
          word + " is not one of " + String.join(", ", keys) + Hint.of(word, keys));
    }
    return null;
  }

  private static List<Long> readings(Yaml.Mapping at, String path, String key, Mistakes mistakes) {
    List<Long> readings = new ArrayList<>();
    String full = path + "." + key;
    Yaml.Entry entry = at.entries().get(key);
    if (entry == null || !(entry.value() instanceof Yaml.Items items)) {
      mistakes.add(entry == null ? at.line() : entry.line(), full, "missing: a list of numbers");
      return readings;
    }
    for (Yaml item : items.items()) {
      try {
        BigDecimal number = new BigDecimal(item.word());
        if (number.abs().compareTo(LARGEST) > 0) {
          mistakes.add(item.line(), full, number + " is outside -" + LARGEST + " to " + LARGEST);
        }
        readings.add(number.movePointRight(3).longValueExact());
      } catch (NumberFormatException | ArithmeticException e) {
        mistakes.add(item.line(), full, item.word() + " is not a number of at most 3 decimals");
      }
    }
    if (readings.size() < 2) {
      mistakes.add(
          entry.line(), full, readings.size() + " readings; at least 2 are needed for a spread");
    }
    return readings;
  }

  /**
   * The file that reads as these calibrations.
   *
   * @param calibrations what it shall say
   * @return YAML
   */
  public static String text(Calibrations calibrations) {
    StringBuilder out = new StringBuilder();
    out.append("# Calibrations of one bench. Add below, remove nothing: the newest of each\n");
    out.append("# quantity is in force, the others are its history.\n");
    out.append("calibration: 1\n");
    out.append("bench: ").append(Dates.quoted(calibrations.bench())).append("\n\nrecords:\n");
    for (CalibrationRecord r : calibrations.records()) {
      String unit = r.quantity().unit();
      Map<String, String> lines = new java.util.LinkedHashMap<>();
      lines.put("quantity", r.quantity().key());
      lines.put(
          "readings_" + unit,
          Arrays.toString(r.readingsThousandths().stream().map(CalibrationFile::human).toArray()));
      lines.put("instrument", Dates.quoted(r.instrument()));
      lines.put("certificate", Dates.quoted(r.certificate()));
      lines.put("uncertainty_" + unit, human(r.uncertaintyThousandths()));
      lines.put("k", human(r.coverageThousandths()));
      lines.put("date", r.date().toString());
      lines.put("due", r.due().toString());
      lines.put("temperature_c", human(r.temperatureMilliCelsius()));
      lines.put("operator", Dates.quoted(r.operator()));
      lines.put("simulated", Boolean.toString(r.simulated()));
      if (!r.setup().isEmpty()) {
        lines.put("setup", Dates.quoted(r.setup()));
      }
      String begin = "  - ";
      for (Map.Entry<String, String> line : lines.entrySet()) {
        out.append(begin).append(line.getKey()).append(": ").append(line.getValue()).append('\n');
        begin = "    ";
      }
    }
    return out.toString();
  }

  private static String human(long thousandths) {
    BigDecimal number = BigDecimal.valueOf(thousandths, 3).stripTrailingZeros();
    return number.signum() == 0 ? "0" : number.toPlainString();
  }
}
