package org.stopwell.core.settings;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * A closed list of parameters. It turns what a person wrote into checked numbers, and names every
 * mistake at once.
 *
 * @param parameters the parameters, in the order of the reference page
 */
public record ParameterTable(List<Parameter> parameters) {

  /** Copies the list and refuses a key given twice. */
  public ParameterTable {
    parameters = List.copyOf(parameters);
    long keys = parameters.stream().map(Parameter::key).distinct().count();
    if (keys != parameters.size()) {
      throw new IllegalArgumentException("a parameter key is given twice");
    }
  }

  /**
   * Checks values against the table.
   *
   * @param written what a person wrote, by key: numbers as decimal text or {@link Number}, words as
   *     text, flags as {@link Boolean} or text
   * @param faults receives every mistake
   * @return the values, with defaults where a key is absent or wrong
   */
  public ParameterValues resolve(Map<String, ?> written, List<Fault> faults) {
    for (String key : written.keySet()) {
      if (parameters.stream().noneMatch(p -> p.key().equals(key))) {
        List<String> known = parameters.stream().map(Parameter::key).toList();
        faults.add(new Fault(key, key + ": unknown key" + Renamed.hint(key, known)));
      }
    }
    long[] values = new long[parameters.size()];
    List<String> given = new ArrayList<>();
    for (int i = 0; i < values.length; i++) {
      Parameter p = parameters.get(i);
      Object value = written.get(p.key());
      values[i] = p.defaultValue();
      if (value != null) {
        given.add(p.key());
        values[i] = read(p, value, faults);
      } else if (p.required()) {
        faults.add(new Fault(p.key(), p.key() + ": missing; " + p.text()));
      }
    }
    return new ParameterValues(this, values, given);
  }

  /**
   * Checks values that must be right.
   *
   * @param written what a person wrote, by key
   * @return the values
   * @throws SettingsException with every mistake
   */
  public ParameterValues resolve(Map<String, ?> written) throws SettingsException {
    List<Fault> faults = new ArrayList<>();
    ParameterValues values = resolve(written, faults);
    if (!faults.isEmpty()) {
      throw new SettingsException(faults);
    }
    return values;
  }

  private static long read(Parameter p, Object value, List<Fault> faults) {
    String text = String.valueOf(value);
    return switch (p.kind()) {
      case NUMBER -> number(p, text, faults);
      case CHOICE -> {
        int index = p.choices().indexOf(text);
        if (index < 0) {
          faults.add(
              new Fault(
                  p.key(),
                  p.key()
                      + ": "
                      + text
                      + " is not one of "
                      + String.join(", ", p.choices())
                      + Renamed.hint(text, p.choices())));
          index = (int) p.defaultValue();
        }
        yield index;
      }
      case FLAG -> {
        if (!text.equals("true") && !text.equals("false")) {
          faults.add(new Fault(p.key(), p.key() + ": " + text + " is not true or false"));
        }
        yield text.equals("true") ? 1 : 0;
      }
      case FILE -> 0;
    };
  }

  private static long number(Parameter p, String text, List<Fault> faults) {
    long base;
    try {
      base = new BigDecimal(text).movePointRight(p.decimals()).longValueExact();
    } catch (NumberFormatException e) {
      faults.add(new Fault(p.key(), p.key() + ": " + text + " is not a number" + inUnit(p)));
      return p.defaultValue();
    } catch (ArithmeticException e) {
      faults.add(
          new Fault(
              p.key(),
              p.key() + ": " + text + " is finer than " + p.decimals() + " decimals" + inUnit(p)));
      return p.defaultValue();
    }
    if (!(base >= p.min() && base <= p.max())) {
      faults.add(
          new Fault(
              p.key(),
              p.key()
                  + ": "
                  + text
                  + unit(p)
                  + " is outside "
                  + p.human(p.min())
                  + " to "
                  + p.human(p.max())
                  + unit(p)));
      return p.defaultValue();
    }
    return base;
  }

  private static String unit(Parameter p) {
    return p.unit().isEmpty() ? "" : " " + p.unit();
  }

  private static String inUnit(Parameter p) {
    return p.unit().isEmpty() ? "" : " in " + p.unit();
  }
}
