package org.stopwell.core.settings;

import java.util.List;
import java.util.stream.Collectors;

/** Settings that cannot be used, with every mistake found. */
public final class SettingsException extends Exception {
  private static final long serialVersionUID = 1L;

  private final transient List<Fault> faults;

  /**
   * All mistakes at once.
   *
   * @param faults at least one
   */
  public SettingsException(List<Fault> faults) {
    super(faults.stream().map(Fault::message).collect(Collectors.joining("\n")));
    this.faults = List.copyOf(faults);
  }

  /**
   * Every mistake found.
   *
   * @return at least one, in the order of the table
   */
  public List<Fault> faults() {
    return faults;
  }
}
