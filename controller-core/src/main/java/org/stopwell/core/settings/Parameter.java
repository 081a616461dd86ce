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
    FLAG,
    /** The name of a file, which the program reads before it makes settings; it has no value. */
    FILE
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
   * This parameter where a file must give it.
   *
   * @return the same key, required
   */
  public Parameter mandatory() {
    return new Parameter(
        key, kind, unit, decimals, min, max, defaultValue, choices, true, text, source);
  }

  /**
   * A value as people write it.
   *
   * @param base value in base units
   * @return decimal text, a word of the choices, true/false, or nothing for a file
   */
  public String human(long base) {
    return switch (kind) {
      case NUMBER -> {
        BigDecimal number = BigDecimal.valueOf(base, decimals).stripTrailingZeros();
        yield number.signum() == 0 ? "0" : number.toPlainString();
      }
      case CHOICE -> choices.get((int) base);
      case FLAG -> base == 1 ? "true" : "false";
      case FILE -> "";
    };
  }
}
