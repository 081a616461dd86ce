package org.stopwell.core.settings;

import java.math.BigDecimal;
import java.util.List;

/**
 * One row of a parameter table while it is written: {@code Parameter.of("standoff_mm").unit("mm",
 * 3).range("-1", "3").initially("0.5").text(…).source(…)}.
 *
 * <p>A row ends with its source, so a value without one does not compile.
 */
public final class ParameterRow {
  private final String key;
  private Parameter.Kind kind = Parameter.Kind.NUMBER;
  private String unit = "";
  private int decimals;
  private String min = "0";
  private String max = "0";
  private String initially = "0";
  private List<String> choices = List.of();
  private boolean required;
  private String text = "";

  ParameterRow(String key) {
    this.key = key;
  }

  /**
   * States the unit of a whole number.
   *
   * @param unit the unit people write
   * @return this row
   */
  public ParameterRow unit(String unit) {
    return unit(unit, 0);
  }

  /**
   * States the unit of a decimal number.
   *
   * @param unit the unit people write
   * @param decimals decimals of that unit that the base unit holds
   * @return this row
   */
  public ParameterRow unit(String unit, int decimals) {
    this.unit = unit;
    this.decimals = decimals;
    return this;
  }

  /**
   * States the resolution of a number without a unit.
   *
   * @param decimals decimals that the base unit holds
   * @return this row
   */
  public ParameterRow decimals(int decimals) {
    return unit("", decimals);
  }

  /**
   * States the limits, both included.
   *
   * @param min least value, human unit
   * @param max greatest value, human unit
   * @return this row
   */
  public ParameterRow range(String min, String max) {
    this.min = min;
    this.max = max;
    return this;
  }

  /**
   * States the default.
   *
   * @param value the value when the key is absent, human unit
   * @return this row
   */
  public ParameterRow initially(String value) {
    this.initially = value;
    return this;
  }

  /**
   * Makes the value one word of a list.
   *
   * @param words the words, the default first
   * @return this row
   */
  public ParameterRow choice(String... words) {
    return choice(List.of(words));
  }

  /**
   * Makes the value one word of a list.
   *
   * @param words the words, the default first
   * @return this row
   */
  public ParameterRow choice(List<String> words) {
    kind = Parameter.Kind.CHOICE;
    choices = words;
    return range("0", Integer.toString(words.size() - 1));
  }

  /**
   * Makes the value true or false.
   *
   * @param value the value when the key is absent
   * @return this row
   */
  public ParameterRow flag(boolean value) {
    kind = Parameter.Kind.FLAG;
    return range("0", "1").initially(value ? "1" : "0");
  }

  /**
   * Makes the value the name of a file.
   *
   * @return this row
   */
  public ParameterRow file() {
    kind = Parameter.Kind.FILE;
    return this;
  }

  /**
   * Makes the key one that a file must give.
   *
   * @return this row
   */
  public ParameterRow required() {
    required = true;
    return this;
  }

  /**
   * States what the setting does.
   *
   * @param text one sentence
   * @return this row
   */
  public ParameterRow text(String text) {
    this.text = text;
    return this;
  }

  /**
   * Ends the row.
   *
   * @param source where the default comes from, or the word "assumed"
   * @return the parameter
   * @throws IllegalArgumentException if the default lies outside the limits
   */
  public Parameter source(String source) {
    return new Parameter(
        key,
        kind,
        unit,
        decimals,
        base(min),
        base(max),
        base(initially),
        choices,
        required,
        text,
        source);
  }

  private long base(String human) {
    return new BigDecimal(human).movePointRight(decimals).longValueExact();
  }
}
