package org.stopwell.core.settings;

import java.util.List;

/** Checked values of a {@link ParameterTable}. Immutable. */
public final class ParameterValues {
  private final ParameterTable table;
  private final long[] values;
  private final List<String> given;

  ParameterValues(ParameterTable table, long[] values, List<String> given) {
    this.table = table;
    this.values = values.clone();
    this.given = List.copyOf(given);
  }

  /**
   * The values of a table without parameters.
   *
   * @return no values
   */
  public static ParameterValues none() {
    return new ParameterValues(new ParameterTable(List.of()), new long[0], List.of());
  }

  /**
   * A number in base units, the index of a choice, or 0 and 1 for a flag.
   *
   * @param parameter a parameter of the table
   * @return the value
   */
  public long get(Parameter parameter) {
    return values[indexOf(parameter)];
  }

  /**
   * A number in base units that fits an int.
   *
   * @param parameter a parameter of the table
   * @return the value
   */
  public int getInt(Parameter parameter) {
    return Math.toIntExact(get(parameter));
  }

  /**
   * The word chosen.
   *
   * @param parameter a choice of the table
   * @return one of its choices
   */
  public String choice(Parameter parameter) {
    int index = indexOf(parameter);
    return table.parameters().get(index).choices().get((int) values[index]);
  }

  /**
   * Whether a flag is set.
   *
   * @param parameter a flag of the table
   * @return its value
   */
  public boolean flag(Parameter parameter) {
    return get(parameter) == 1;
  }

  /**
   * Whether the key was written, rather than left to its default.
   *
   * @param parameter a parameter of the table
   * @return true when a person gave it
   */
  public boolean isGiven(Parameter parameter) {
    return given.contains(parameter.key());
  }

  /**
   * The table that these values obey.
   *
   * @return the table
   */
  public ParameterTable table() {
    return table;
  }

  private int indexOf(Parameter parameter) {
    List<Parameter> all = table.parameters();
    for (int i = 0; i < all.size(); i++) {
      if (all.get(i).key().equals(parameter.key())) {
        return i;
      }
    }
    throw new IllegalArgumentException(parameter.key() + " is not in this table");
  }
}
