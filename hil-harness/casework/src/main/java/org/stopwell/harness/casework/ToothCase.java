package org.stopwell.harness.casework;

import java.util.List;
import java.util.Optional;
import org.stopwell.harness.plan.Settings;

/**
 * The case of one tooth, as its file states it.
 *
 * @param tooth FDI number
 * @param operator code of the operator of every step that names no other
 * @param settings the settings file of the case
 * @param settingsFile the settings file as the case names it
 * @param canals the canals, in the order of the file
 * @param sha256 SHA-256 of the file, hexadecimal
 */
public record ToothCase(
    int tooth,
    String operator,
    Settings settings,
    String settingsFile,
    List<CaseCanal> canals,
    String sha256) {
  /** The file of the case in its directory. */
  public static final String FILE = "case.yaml";

  /** Takes a copy. */
  public ToothCase {
    canals = List.copyOf(canals);
  }

  /**
   * A canal.
   *
   * @param name its name
   * @return empty when the tooth has none of that name
   */
  public Optional<CaseCanal> canal(String name) {
    return canals.stream().filter(c -> c.name().equals(name)).findFirst();
  }

  /**
   * The names of all canals.
   *
   * @return in the order of the file
   */
  public List<String> names() {
    return canals.stream().map(CaseCanal::name).toList();
  }
}
