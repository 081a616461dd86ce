package org.stopwell.core.settings;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.weights.DepthWeights;

/**
 * All settings of the controller: checked once, then immutable.
 *
 * <p>Settings are in named sections: {@code file}, {@code sense}, {@code guard}, and one per stage
 * of work, {@code stages.length} and so on. A stage that was not written may not be used. A stage
 * with another file than {@code file} has a section {@code stages.length.file}.
 */
public final class ControllerSettings {
  private final Map<String, ParameterValues> sections;
  private final Calibration calibration;
  private final PolicyChoice choice;
  private final @Nullable DepthWeights weights;
  private final long fingerprint;

  private ControllerSettings(
      Map<String, ParameterValues> sections,
      Calibration calibration,
      PolicyChoice choice,
      @Nullable DepthWeights weights) {
    this.sections = sections;
    this.calibration = calibration;
    this.choice = choice;
    this.weights = weights;
    this.fingerprint = Fingerprint.of(sections, calibration, weights);
  }

  /**
   * The tables of all sections by name.
   *
   * @return {@code file}, {@code sense}, {@code guard}, {@code stages.open} ...
   */
  public static Map<String, ParameterTable> tables() {
    return tables(PolicyTables.BUILT_IN);
  }

  /**
   * The tables of all sections by name, with policies that are not built in.
   *
   * @param policies the policies that settings may name
   * @return as {@link #tables()}, with {@code policy.NAME} for every policy with own parameters
   */
  public static Map<String, ParameterTable> tables(PolicyTables policies) {
    Map<String, ParameterTable> tables = new LinkedHashMap<>();
    tables.put("file", FileParameters.TABLE);
    tables.put("sense", policies.sense());
    tables.put("guard", GuardParameters.TABLE);
    for (Stage stage : Stage.values()) {
      tables.put(nameOf(stage), StageParameters.TABLE);
      tables.put(fileOf(stage), FileParameters.OF_STAGE);
    }
    tables.put(PolicyParameters.SECTION, policies.policies());
    policies.own().forEach((name, table) -> tables.put(PolicyTables.OWN + name, table));
    return tables;
  }

  /**
   * The name of the section that holds a stage.
   *
   * @param stage a stage
   * @return such as {@code stages.length}
   */
  public static String nameOf(Stage stage) {
    return "stages." + stage.name().toLowerCase(Locale.ROOT);
  }

  /**
   * The name of the section that holds the file of one stage, where it is not that of all stages.
   *
   * @param stage a stage
   * @return such as {@code stages.length.file}
   */
  public static String fileOf(Stage stage) {
    return nameOf(stage) + ".file";
  }

  /**
   * Checks and closes a set of settings.
   *
   * @param written what a person wrote: values by key, by section; {@code file}, {@code sense} and
   *     at least one stage must be there, a stage that is absent may not be used
   * @param calibration the curve from signal to distance
   * @return the settings
   * @throws SettingsException with every mistake, keys as {@code section.key}
   */
  public static ControllerSettings of(
      Map<String, ? extends Map<String, ?>> written, Calibration calibration)
      throws SettingsException {
    return of(written, calibration, PolicyTables.BUILT_IN);
  }

  /**
   * Checks and closes a set of settings that may name policies that are not built in.
   *
   * @param written what a person wrote: values by key, by section
   * @param calibration the curve from signal to distance
   * @param policies the policies that settings may name
   * @return the settings
   * @throws SettingsException with every mistake, keys as {@code section.key}
   */
  public static ControllerSettings of(
      Map<String, ? extends Map<String, ?>> written, Calibration calibration, PolicyTables policies)
      throws SettingsException {
    return of(written, calibration, policies, null);
  }

  /**
   * Checks and closes a set of settings that may read by weights.
   *
   * @param written what a person wrote: values by key, by section
   * @param calibration the curve from signal to distance
   * @param policies the policies that settings may name
   * @param weights what a policy that reads by weights was taught; another policy leaves them
   * @return the settings
   * @throws SettingsException with every mistake, keys as {@code section.key}
   */
  public static ControllerSettings of(
      Map<String, ? extends Map<String, ?>> written,
      Calibration calibration,
      PolicyTables policies,
      @Nullable DepthWeights weights)
      throws SettingsException {
    List<Fault> faults = new ArrayList<>();
    Map<String, ParameterTable> tables = tables(policies);
    for (String name : written.keySet()) {
      if (!tables.containsKey(name)) {
        faults.add(new Fault(name, name + ": unknown section"));
      }
    }
    Map<String, ParameterValues> sections = new LinkedHashMap<>();
    tables.forEach(
        (name, table) -> {
          if (written.containsKey(name) || isOptional(name)) {
            sections.put(name, resolve(name, table, written, faults));
          }
        });
    boolean unknown = faults.stream().anyMatch(f -> f.key().equals(PolicyTables.SENSING));
    PolicyChoice choice =
        unknown ? PolicyChoice.unknown(sections, policies) : PolicyChoice.of(sections, policies);
    choice
        .own(policies)
        .filter(name -> !sections.containsKey(name))
        .forEach(
            name ->
                sections.put(
                    name,
                    resolve(name, Objects.requireNonNull(tables.get(name)), written, faults)));
    choice.addUnused(written, policies, faults);
    DepthWeights read = choice.needs().byWeights() ? weights : null;
    SettingsChecks.addFaults(sections, choice.needs(), calibration, faults);
    if (!unknown) {
      SettingsChecks.addWeightsFaults(sections, choice.needs(), read, faults);
    }
    if (!faults.isEmpty()) {
      throw new SettingsException(faults);
    }
    ControllerSettings settings = new ControllerSettings(sections, calibration, choice, read);
    SettingsChecks.addHertzFault(settings, faults);
    if (!faults.isEmpty()) {
      throw new SettingsException(faults);
    }
    return settings;
  }

  /**
   * What a set of settings holds that the policies chosen in it do not read.
   *
   * @param written what a person wrote: values by key, by section
   * @param policies the policies that settings may name
   * @return faults; the key of each is {@code section.key}, or {@code policy.NAME} for a section
   */
  public static List<Fault> unused(
      Map<String, ? extends Map<String, ?>> written, PolicyTables policies) {
    Map<String, ParameterValues> sections = new LinkedHashMap<>();
    tables(policies)
        .forEach(
            (name, table) -> sections.put(name, resolve(name, table, written, new ArrayList<>())));
    List<Fault> faults = new ArrayList<>();
    PolicyChoice.of(sections, policies).addUnused(written, policies, faults);
    return faults;
  }

  private static ParameterValues resolve(
      String name,
      ParameterTable table,
      Map<String, ? extends Map<String, ?>> written,
      List<Fault> faults) {
    Map<String, ?> values = valuesOf(name, written);
    List<Fault> here = new ArrayList<>();
    ParameterValues resolved = table.resolve(values, here);
    here.forEach(f -> faults.add(new Fault(name + "." + f.key(), f.message())));
    if (!table.equals(FileParameters.OF_STAGE)) {
      return resolved;
    }
    // a mistake in section file is reported there
    return table.resolve(
        FileParameters.ofStage(valuesOf("file", written), values), new ArrayList<>());
  }

  private static Map<String, ?> valuesOf(
      String name, Map<String, ? extends Map<String, ?>> written) {
    Map<String, ?> values = written.get(name);
    return values == null ? Map.of() : values;
  }

  /** Sections that hold their defaults when they are not written. */
  private static boolean isOptional(String name) {
    return name.equals("guard") || name.equals(PolicyParameters.SECTION);
  }

  /**
   * The sensing policy.
   *
   * @return its name, as {@code sense.policy} says
   */
  public String sensingPolicy() {
    return choice.sensing();
  }

  /**
   * The policy of another kind.
   *
   * @param kind a key of section {@code policies}, such as {@link PolicyParameters#STOPPING}
   * @return its name
   */
  public String policy(String kind) {
    return Objects.requireNonNull(choice.names().get(PolicyParameters.SECTION + "." + kind));
  }

  /**
   * The policies chosen.
   *
   * @return names by the key that chooses them, such as {@code sense.policy}
   */
  public Map<String, String> chosen() {
    return choice.names();
  }

  /**
   * What the sensing policy needs.
   *
   * @return signal, frequencies and keys
   */
  public SensingNeeds sensing() {
    return choice.needs();
  }

  /**
   * The frequencies that the sensing policy needs: those of its weights, where it reads by weights.
   *
   * @return Hz, ascending; empty with an outside locator
   */
  public int[] sensedHertz() {
    if (weights != null) {
      return weights.validity().hertz().stream().mapToInt(Integer::intValue).toArray();
    }
    return choice.needs().frequencies().hertz(section("sense"), own(choice.sensing()));
  }

  /**
   * The own parameters of a policy that these settings choose.
   *
   * @param policy its name
   * @return its values; none where it has no parameters of its own
   */
  public ParameterValues own(String policy) {
    ParameterValues values = sections.get(PolicyTables.OWN + policy);
    return values == null ? ParameterValues.none() : values;
  }

  /**
   * The curve from signal to distance.
   *
   * @return the curve, {@link Calibration#NONE} with an outside locator
   */
  public Calibration calibration() {
    return calibration;
  }

  /**
   * What the sensing policy was taught.
   *
   * @return the weights; empty when the policy does not read by weights
   */
  public Optional<DepthWeights> weights() {
    return Optional.ofNullable(weights);
  }

  /**
   * Whether a stage may be used.
   *
   * @param stage a stage
   * @return true when its section was written
   */
  public boolean has(Stage stage) {
    return sections.containsKey(nameOf(stage));
  }

  /**
   * The values of a stage.
   *
   * @param stage a stage that {@link #has(Stage)}
   * @return its values
   */
  public ParameterValues stage(Stage stage) {
    return section(nameOf(stage));
  }

  /**
   * Whether a stage names a file of its own.
   *
   * @param stage a stage
   * @return false where its file is that of all stages
   */
  public boolean hasOwnFile(Stage stage) {
    return sections.containsKey(fileOf(stage));
  }

  /**
   * The file of a stage: its own, or that of all stages.
   *
   * @param stage a stage
   * @return its values
   */
  public ParameterValues file(Stage stage) {
    ParameterValues own = sections.get(fileOf(stage));
    return own == null ? section("file") : own;
  }

  /**
   * The sections that hold values.
   *
   * @return tables by name, in the order of {@link #tables()}
   */
  public Map<String, ParameterTable> written() {
    Map<String, ParameterTable> tables = new LinkedHashMap<>();
    sections.forEach((name, values) -> tables.put(name, values.table()));
    return tables;
  }

  /**
   * The values of one section.
   *
   * @param name a name of {@link #tables()}
   * @return its values
   */
  public ParameterValues section(String name) {
    ParameterValues values = sections.get(name);
    if (values == null) {
      throw new IllegalArgumentException("no section " + name);
    }
    return values;
  }

  /**
   * Hash of all values, the curve and the weights: equal settings have equal fingerprints on any
   * machine, however they were written.
   *
   * @return 64 bits
   */
  public long fingerprint() {
    return fingerprint;
  }
}
