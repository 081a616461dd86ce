package org.stopwell.core.settings;

import java.math.BigDecimal;
import java.util.List;

/**
 * One setting as data: the settings files, their schema, the reference page and every error message
 * are made from it.
 *
 * <p>People write a decimal number in the unit of the key ({@code standoff_mm: 0.5}); the program
 * holds a whole number of {@code 10^-decimals} of that unit (500 µm).
 *
 * @param key the name in files, ending in the unit, such as {@code standoff_mm}
 * @param kind what sort of value it takes
 * @param unit the unit people write, empty where there is none
 * @param decimals how many decimals of the human unit the base unit holds
 * @param min the least value, in base units
 * @param max the greatest value, in base units
 * @param defaultValue the value when the key is absent, in base units or the index of a choice
 * @param choices the words allowed, for {@link Kind#CHOICE}
 * @param required whether a file must give the key
 * @param text what the setting does, in one sentence
 * @param source where the default comes from, or the word "assumed"
 */
public record Parameter(
    String key,
    Kind kind,
    String unit,
    int decimals,
    long min,
    long max,
    long defaultValue,
    List<String> choices,
    boolean required,
    String text,
    String source) {

  /** What sort of value a parameter takes. */
  public enum Kind {
    /** A decimal number within limits. */
    NUMBER,
    /** One word of a list. */
    CHOICE,
    /** True or false. */
    FLAG
  }

  /** Copies the choices and checks that the default is allowed. */
  public Parameter {
    choices = List.copyOf(choices);
    if (!(defaultValue >= min && defaultValue <= max)) {
      throw new IllegalArgumentException(
          key + ": default " + defaultValue + " outside " + min + " to " + max);
    }
  }

  /**
   * Begins a row of a parameter table.
   *
   * @param key the name in files
   * @return a row without unit, limits and text
   */
  public static ParameterRow of(String key) {
    return new ParameterRow(key);
  }

  /**
   * A number with a default.
   *
   * @param key the name in files
   * @param unit the unit people write
   * @param decimals decimals of that unit that the base unit holds
   * @param min least value, human unit
   * @param max greatest value, human unit
   * @param defaultValue default, human unit
   * @param text what it does
   * @param source where the default comes from
   * @return the parameter
   */
  public static Parameter number(
      String key,
      String unit,
      int decimals,
      String min,
      String max,
      String defaultValue,
      String text,
      String source) {
    return new Parameter(
        key,
        Kind.NUMBER,
        unit,
        decimals,
        base(min, decimals),
        base(max, decimals),
        base(defaultValue, decimals),
        List.of(),
        false,
        text,
        source);
  }

  /**
   * One word of a list.
   *
   * @param key the name in files
   * @param choices the words, the default first
   * @param text what it does
   * @param source where the default comes from
   * @return the parameter
   */
  public static Parameter choice(String key, List<String> choices, String text, String source) {
    return new Parameter(
        key, Kind.CHOICE, "", 0, 0, choices.size() - 1L, 0, choices, false, text, source);
  }

  /**
   * True or false.
   *
   * @param key the name in files
   * @param defaultValue the value when the key is absent
   * @param text what it does
   * @param source where the default comes from
   * @return the parameter
   */
  public static Parameter flag(String key, boolean defaultValue, String text, String source) {
    return new Parameter(
        key, Kind.FLAG, "", 0, 0, 1, defaultValue ? 1 : 0, List.of(), false, text, source);
  }

  /**
   * The same parameter, one that a file must give.
   *
   * @return a copy
   */
  public Parameter asRequired() {
    return new Parameter(
        key, kind, unit, decimals, min, max, defaultValue, choices, true, text, source);
  }

  /**
   * A value as people write it.
   *
   * @param base value in base units
   * @return decimal text, a word of the choices, or true/false
   */
  public String human(long base) {
    return switch (kind) {
      case NUMBER -> {
        BigDecimal number = BigDecimal.valueOf(base, decimals).stripTrailingZeros();
        yield number.signum() == 0 ? "0" : number.toPlainString();
      }
      case CHOICE -> choices.get((int) base);
      case FLAG -> base == 1 ? "true" : "false";
    };
  }

  private static long base(String human, int decimals) {
    return new BigDecimal(human).movePointRight(decimals).longValueExact();
  }
}
