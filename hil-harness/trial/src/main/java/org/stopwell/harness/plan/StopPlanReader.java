package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.protocol.BlindKey;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.Expectation;

/** Reads a plan of stops that are measured elsewhere, and finds all mistakes in it at once. */
final class StopPlanReader {
  static final String STANDOFFS = "standoff_mm";
  static final String DEVICES = "devices";
  static final String OPERATORS = "operators";
  static final String TEETH = "teeth";

  /** Regular expression of a code. */
  static final String CODE = "[A-Za-z0-9][A-Za-z0-9._+-]{0,19}";

  private static final Pattern IS_CODE = Pattern.compile(CODE);

  private static final Parameter IMPORT =
      Parameter.of("import")
          .range("1", "1")
          .initially("1")
          .required()
          .text("File format, always 1.")
          .source("assumed");

  private static final Parameter UNCERTAINTY =
      Parameter.of("uncertainty_mm")
          .unit("mm", 3)
          .range("0", "5")
          .initially("0")
          .text("Expanded uncertainty of a measured distance, 95 %; 0: not stated.")
          .source("the laboratory");

  private static final Parameter CONSTRICTION =
      Parameter.of("constriction_u95_mm")
          .unit("mm", 3)
          .range("0.001", "0.1")
          .initially("0.03")
          .text(
              "Expanded uncertainty of constriction_mm, 95 %, in rows without constriction_u95_mm.")
          .source("assumed: a requirement for its measurement");

  private static final Parameter TRIALS =
      Parameter.of("trials")
          .unit("trials")
          .range("0", "1000000")
          .initially("0")
          .text("Rows of each device at each setting; 0: as many as the table has.")
          .source("the claim: size says how many it needs");

  /** Keys at the top. */
  static final ParameterTable HEAD =
      new ParameterTable(
          List.of(
              IMPORT, PlanTables.TOLERANCE, UNCERTAINTY, CONSTRICTION, TRIALS, PlanTables.SEED));

  static final Parameter STANDOFF =
      Parameter.of(STANDOFFS)
          .unit("mm", 3)
          .range("0", "5")
          .initially("0.5")
          .text("Distance short of the foramen that a setting claims.")
          .source("the maker of the device");

  private static final Set<String> OTHERS =
      Set.of(
          "name",
          "purpose",
          "place",
          STANDOFFS,
          DEVICES,
          OPERATORS,
          TEETH,
          "claims",
          "analysis",
          ProtocolTables.ENDPOINTS,
          ProtocolTables.BLIND);

  private final Source source;
  private final Mistakes mistakes;

  StopPlanReader(Source source) {
    this.source = source;
    this.mistakes = new Mistakes(source.name());
  }

  StopPlan read() throws PlanException {
    Yaml.Mapping top = source.top(mistakes);
    if (top.entries().isEmpty()) {
      mistakes.throwIfAny();
    }
    ParameterValues head = Sections.resolve(top, "", HEAD, OTHERS, mistakes);
    String name = FreeText.name(top, "name", mistakes);
    String purpose = FreeText.optional(top, "purpose", mistakes);
    String place = FreeText.optional(top, "place", mistakes);
    Map<String, Integer> standoffs = standoffs(top);
    int tolerance = head.getInt(PlanTables.TOLERANCE);
    List<Claim> claims = ClaimReader.read(Groups.of(top, "claims", mistakes), tolerance, mistakes);
    for (Claim claim : claims) {
      if (!claim.endpoint().isAbout(Expectation.STOP)) {
        mistakes.add(
            Groups.line(Groups.of(top, "claims", mistakes), claim.endpoint().key()),
            "claims." + claim.endpoint().key(),
            "has no trials here: every row of a table of stops is expected to stop");
      }
    }
    StatisticsChoice asked =
        StatisticsReader.read(Groups.of(top, "analysis", mistakes), List.of(), mistakes);
    Protocol protocol = new ProtocolReader(top, false, mistakes).ofStops(claims);
    List<String> devices = codes(top, DEVICES);
    if (protocol.blinding().isPresent() && devices.size() > BlindKey.MOST_CODES) {
      mistakes.add(
          Groups.line(top, DEVICES),
          DEVICES,
          devices.size() + " devices, at most " + BlindKey.MOST_CODES + " can be coded");
    }
    List<String> operators = codes(top, OPERATORS);
    List<String> teeth = codes(top, TEETH);
    mistakes.throwIfAny();
    return new StopPlan(
        source,
        name,
        purpose,
        place,
        tolerance,
        head.getInt(UNCERTAINTY),
        head.getInt(CONSTRICTION),
        head.getInt(TRIALS),
        standoffs,
        devices,
        operators,
        teeth,
        head.get(PlanTables.SEED),
        claims,
        new StatisticsChoice(
            asked.coverage(),
            asked.precision(),
            /* agreement= */ false, // a device of its own states no reading
            asked.sequential(),
            asked.marginMicrons(),
            asked.share(),
            asked.confidence(),
            StopPlan.FACTORS,
            List.of()),
        protocol);
  }

  private Map<String, Integer> standoffs(Yaml.Mapping top) {
    Map<String, Integer> standoffs = new LinkedHashMap<>();
    Yaml.Mapping group = Groups.of(top, STANDOFFS, mistakes);
    if (group.entries().isEmpty()) {
      mistakes.add(
          Groups.line(top, STANDOFFS),
          STANDOFFS,
          "states no setting; write one line for each setting of the table, such as s05: 0.5");
    }
    group
        .entries()
        .forEach(
            (setting, entry) -> {
              String path = Sections.join(STANDOFFS, setting);
              if (!IS_CODE.matcher(setting).matches()) {
                mistakes.add(entry.line(), path, notCode(setting));
              }
              Yaml.Mapping alone =
                  new Yaml.Mapping(new LinkedHashMap<>(Map.of(STANDOFFS, entry)), entry.line());
              Mistakes own = new Mistakes(source.name());
              ParameterValues value =
                  Sections.resolve(alone, "", new ParameterTable(List.of(STANDOFF)), Set.of(), own);
              own.all().forEach(m -> mistakes.add(entry.line(), path, m.message()));
              standoffs.put(setting, value.getInt(STANDOFF));
            });
    return standoffs;
  }

  /** A list of codes; empty where the key is missing. */
  private List<String> codes(Yaml.Mapping top, String key) {
    Yaml.Entry entry = top.entries().get(key);
    if (entry == null) {
      return List.of();
    }
    if (!(entry.value() instanceof Yaml.Items items)) {
      mistakes.add(entry.line(), key, entry.value().notA("a list of codes"));
      return List.of();
    }
    List<String> codes = new ArrayList<>();
    for (Yaml item : items.items()) {
      String code = item.word();
      if (!IS_CODE.matcher(code).matches()) {
        mistakes.add(item.line(), key, notCode(code));
      } else if (codes.contains(code)) {
        mistakes.add(item.line(), key, code + " stands twice");
      } else {
        codes.add(code);
      }
    }
    return codes;
  }

  private static String notCode(String text) {
    return "\"" + text + "\" is no code: 1 to 20 letters, digits and . _ + -";
  }
}
