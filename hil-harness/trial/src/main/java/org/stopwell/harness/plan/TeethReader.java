package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.rig.bench.CanalSection;

/** Reads the extracted teeth of a plan, and finds what contradicts them. */
final class TeethReader {
  /** The section of a plan. */
  static final String KEY = "teeth";

  static final String NAME = "name";
  static final String MEDIUM = "medium";

  static final Parameter LENGTH =
      Parameter.of("length_mm")
          .unit("mm", 3)
          .range("4", "29.4")
          .initially("16")
          .required()
          .text("Measured length of the canal, from the reference point to the foramen.")
          .source("measured, for example under a microscope with a file at the foramen");

  static final Parameter UNCERTAINTY =
      Parameter.of("uncertainty_mm")
          .unit("mm", 3)
          .range("0.001", "1")
          .initially("0.1")
          .required()
          .text("Expanded uncertainty of length_mm: coverage factor k times the standard one.")
          .source("budget of the length measurement");

  static final Parameter COVERAGE =
      Parameter.of("k")
          .decimals(2)
          .range("1", "4")
          .initially("2")
          .text("Coverage factor of uncertainty_mm.")
          .source("95 % of a normal distribution, JCGM 100:2008");

  static final Parameter TEMPERATURE =
      Parameter.of("temperature_c")
          .unit("°C", 1)
          .range("0", "60")
          .initially("25")
          .text("Temperature of medium and fluid.")
          .source("reference of conductivity tables, ISO 7888 from memory");

  static final Parameter OBSERVERS =
      Parameter.of("observer_sd_um")
          .unit("µm")
          .range("1", "100")
          .initially("10")
          .text(
              "Standard deviation between observers of the foramen, from their training; for"
                  + " zero_readings_um.")
          .source("assumed");

  /** Keys of one tooth beside its texts. */
  static final ParameterTable TABLE =
      new ParameterTable(List.of(LENGTH, UNCERTAINTY, COVERAGE, TEMPERATURE, OBSERVERS));

  private final Yaml.Mapping top;
  private final Mistakes mistakes;

  TeethReader(Yaml.Mapping top, Mistakes mistakes) {
    this.top = top;
    this.mistakes = mistakes;
  }

  /**
   * The teeth in the order of the plan; none for a plan on models or networks.
   *
   * @param mounted whether the plan states their medium and temperature under mount
   */
  List<ExtractedTooth> read(boolean mounted) {
    Yaml.Entry entry = top.entries().get(KEY);
    if (entry == null) {
      return List.of();
    }
    if (!(entry.value() instanceof Yaml.Items items) || items.items().isEmpty()) {
      mistakes.add(entry.line(), KEY, entry.value().notA("a list of teeth"));
      return List.of();
    }
    List<ExtractedTooth> teeth = new ArrayList<>();
    for (Yaml item : items.items()) {
      if (item instanceof Yaml.Mapping one) {
        add(one, mounted, teeth);
      } else {
        mistakes.add(item.line(), KEY, item.notA("a group of keys"));
      }
    }
    return List.copyOf(teeth);
  }

  private void add(Yaml.Mapping one, boolean mounted, List<ExtractedTooth> teeth) {
    Mistakes texts = new Mistakes("");
    String name = FreeText.name(one, NAME, texts);
    String medium =
        mounted ? FreeText.optional(one, MEDIUM, texts) : FreeText.required(one, MEDIUM, texts);
    for (String key : mounted ? List.of(MEDIUM, TEMPERATURE.key()) : List.<String>of()) {
      if (one.entries().containsKey(key)) {
        texts.add(Groups.line(one, key), key, "is stated by mount; remove it here");
      }
    }
    texts.all().forEach(m -> mistakes.add(m.line(), KEY + "." + m.key(), m.message()));
    ParameterValues v =
        Sections.resolve(one, KEY, TABLE, Set.of(NAME, MEDIUM, ToothZeroReader.KEY), mistakes);
    if (v.isGiven(OBSERVERS) && !one.entries().containsKey(ToothZeroReader.KEY)) {
      mistakes.add(
          Groups.line(one, OBSERVERS.key()),
          KEY + "." + OBSERVERS.key(),
          "has no effect without " + ToothZeroReader.KEY + "; remove it");
    }
    ExtractedTooth tooth =
        new ExtractedTooth(
            name,
            v.getInt(LENGTH),
            v.getInt(UNCERTAINTY),
            v.getInt(COVERAGE),
            medium,
            v.getInt(TEMPERATURE),
            new ToothZeroReader(mistakes).read(one, v.getInt(OBSERVERS)),
            one.line());
    for (ExtractedTooth other : teeth) {
      if (other.number() == tooth.number() && !name.isEmpty()) {
        mistakes.add(
            Groups.line(one, NAME),
            KEY + "." + NAME,
            name
                + (other.isNamed(name)
                    ? " is also on line " + other.line()
                    : " cannot be told from " + other.name() + "; give it another name"));
      }
    }
    teeth.add(tooth);
  }

  /** Refuses what a plan states beside its teeth and what no tooth can have. */
  void check(
      List<ExtractedTooth> teeth, ParameterValues head, int conditions, List<Variation> vary) {
    if (teeth.isEmpty()) {
      return;
    }
    int trials = head.getInt(PlanTables.TRIALS);
    int canalTrials = head.getInt(PlanTables.CANAL_TRIALS);
    if (conditions > 0 && trials != teeth.size() * canalTrials) {
      mistakes.add(
          Groups.line(top, PlanTables.TRIALS.key()),
          PlanTables.TRIALS.key(),
          trials
              + ", must be "
              + teeth.size() * canalTrials
              + ": "
              + teeth.size()
              + " teeth times canal_trials "
              + canalTrials);
    }
    if (head.choice(PlanTables.DRAW).equals(PlanTables.POPULATION)) {
      mistakes.add(
          Groups.line(top, PlanTables.DRAW.key()),
          PlanTables.DRAW.key(),
          "population draws models of canals; remove it, or remove teeth");
    }
    if (top.entries().containsKey(ProtocolTables.SENTINELS)) {
      mistakes.add(
          Groups.line(top, ProtocolTables.SENTINELS),
          ProtocolTables.SENTINELS,
          "a bench with an extracted tooth has no known answer; remove this section");
    }
    vary.stream()
        .filter(v -> v.section().equals("canal") || v.section().equals(PlanTables.FLUID))
        .forEach(
            v ->
                mistakes.add(
                    v.line(),
                    "vary." + v.name(),
                    "cannot be drawn in an extracted tooth; use a level of a factor"));
  }

  /** An extracted tooth is as it is: the plan can state nothing of its canal. */
  void canal(List<ExtractedTooth> teeth, Sections scene) {
    if (teeth.isEmpty()) {
      return;
    }
    scene
        .flat()
        .forEach(
            (key, written) -> {
              boolean kind = key.equals("canal." + CanalSection.KIND.key());
              if (kind && !written.text().equals("tooth")) {
                mistakes.add(
                    written.line(),
                    written.path(),
                    written.text() + ", must be tooth where teeth names extracted teeth");
              } else if (key.startsWith("canal.") && !kind) {
                mistakes.add(
                    written.line(),
                    written.path(),
                    "describes a model; the plan names extracted teeth, so remove this key");
              }
            });
  }

  /** What no scene of a tooth can be, with the line of the tooth. */
  void scenes(List<ExtractedTooth> teeth, List<PlannedCondition> conditions) {
    if (!mistakes.isEmpty()) {
      return; // they would come again for every tooth
    }
    for (ExtractedTooth tooth : teeth) {
      for (PlannedCondition condition : conditions) {
        try {
          ToothScene.of(tooth, condition, condition.with(Map.of()), 0);
        } catch (SettingsException e) {
          Fault first = e.faults().get(0);
          mistakes.add(
              tooth.line(),
              KEY,
              tooth.name() + ", condition " + condition.name() + ": " + first.message());
        }
      }
    }
  }

  /** A survey needs teeth, and no weights judge a tooth that they were taught with. */
  void expectations(List<ExtractedTooth> teeth, List<PlannedCondition> conditions) {
    for (PlannedCondition condition : conditions) {
      boolean survey = condition.expectation() == Expectation.SURVEY;
      if (survey && teeth.isEmpty()) {
        mistakes.add(
            Groups.line(top, PlanTables.EXPECT.key()),
            PlanTables.EXPECT.key(),
            "condition " + condition.name() + ": survey needs teeth, the extracted teeth");
      }
      if (!survey) {
        taught(teeth, condition.settings());
      }
    }
  }

  private void taught(List<ExtractedTooth> teeth, Settings settings) {
    if (settings.controller().weights().isEmpty()) {
      return;
    }
    WeightsSource weights = settings.weights();
    for (ExtractedTooth tooth : teeth) {
      Optional<String> taught =
          weights.weights().origin().teeth().stream().filter(tooth::isNamed).findFirst();
      taught.ifPresent(
          name ->
              mistakes.add(
                  tooth.line(),
                  KEY,
                  tooth.name()
                      + ": the weights file "
                      + weights.name()
                      + " was taught with this tooth, so it cannot be judged in it; remove the tooth"
                      + " from the plan, or teach weights without it (settings "
                      + settings.source().name()
                      + ")"));
    }
  }
}
