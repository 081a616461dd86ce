package org.stopwell.harness.plan;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.pi.PiStation;

/**
 * A station file: the wiring of one bench, and values of its parts.
 *
 * @param source the file
 * @param name what the station is called
 * @param pi the pins of a Raspberry Pi
 */
public record Station(Source source, String name, PiStation pi) {
  private static final String PI = "pi";
  private static final Set<String> WORDS = Set.of("name", "purpose");

  private static final ParameterTable HEAD =
      new ParameterTable(
          List.of(
              Parameter.of("station")
                  .range("1", "1")
                  .initially("1")
                  .required()
                  .text("File format, always 1.")
                  .source("assumed")));

  /**
   * Reads and checks a station file.
   *
   * @param source the file
   * @return the station
   * @throws PlanException with every mistake in it
   */
  public static Station read(Source source) throws PlanException {
    Mistakes mistakes = new Mistakes(source.name());
    Yaml.Mapping top = source.top(mistakes);
    if (top.entries().isEmpty()) {
      mistakes.throwIfAny();
    }
    Set<String> beside = new TreeSet<>(WORDS);
    beside.add(PI);
    Sections.resolve(top, "", HEAD, beside, mistakes);
    String name = FreeText.name(top, "name", mistakes);
    FreeText.optional(top, "purpose", mistakes);
    Map<String, Yaml.Entry> kept = new LinkedHashMap<>(top.entries());
    kept.keySet().retainAll(Set.of(PI));
    Sections sections =
        Sections.read(
            new Yaml.Mapping(kept, top.line()),
            "",
            Map.of(PI, PiStation.TABLE),
            Set.of(),
            mistakes);
    try {
      PiStation pi = PiStation.of(sections.texts().getOrDefault(PI, Map.of()));
      mistakes.throwIfAny();
      return new Station(source, name, pi);
    } catch (SettingsException e) {
      sections.place(e.faults(), "", mistakes);
      throw mistakes.asException();
    }
  }
}
