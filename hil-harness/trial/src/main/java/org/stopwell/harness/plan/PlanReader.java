package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.Tapes;

/** Reads a plan and finds all mistakes in it and in its settings at once. */
final class PlanReader {
  /** At the top, the settings file; in a level, the values that replace it. */
  static final String SETTINGS = "settings";

  private final Source source;
  private final Policies policies;
  private final Mistakes mistakes;

  private final PlanSettings settingsFiles;
  private DeviceReader devices;
  private MountReader mounts;
  private boolean drawn;

  /** Whether the plan may say how full a canal is, in place of a level. */
  private boolean filled;

  PlanReader(Source source, @Nullable Source settings, Policies policies) {
    this(source, settings, policies, Map.of());
  }

  /** A reader of a plan, some of whose settings files were read before. */
  PlanReader(
      Source source, @Nullable Source settings, Policies policies, Map<String, Settings> known) {
    this.source = source;
    this.policies = policies;
    this.mistakes = new Mistakes(source.name());
    this.settingsFiles = new PlanSettings(source, settings, policies, known, mistakes);
    this.devices = new DeviceReader(Yaml.Mapping.empty(0), false, mistakes);
    this.mounts = new MountReader(false, mistakes);
  }

  Plan read() throws PlanException {
    Yaml.Mapping top = source.top(mistakes);
    if (top.entries().isEmpty()) {
      mistakes.throwIfAny();
    }
    ParameterValues head = Sections.resolve(top, "", PlanTables.HEAD, PlanTables.OTHERS, mistakes);
    drawn = head.choice(PlanTables.DRAW).equals(PlanTables.POPULATION);
    String name = FreeText.name(top, "name", mistakes);
    String purpose = FreeText.optional(top, "purpose", mistakes);
    Settings settings = settingsFiles.ofPlan(top);
    Stage stage = Stage.ofCode((int) head.get(PlanTables.STAGE));
    int standoff = 0;
    if (settings != null) {
      if (settings.controller().has(stage)) {
        standoff = settings.controller().stage(stage).getInt(StageParameters.STANDOFF);
      } else {
        mistakes.add(
            line(top, "stage"),
            "stage",
            Settings.word(stage) + " is not described in " + settings.source().name());
      }
    }
    Sections base =
        Sections.read(group(top, "scene"), "scene", PlanTables.SCENE, Set.of(), mistakes);
    List<Variation> variations = VariationReader.read(group(top, "vary"), mistakes);
    List<PlannedFault> faults = FaultReader.read(top, "", mistakes);
    Expectation expected = Expectation.values()[(int) head.get(PlanTables.EXPECT)];
    boolean external = head.choice(DeviceReader.CONTROLLER).equals(DeviceReader.EXTERNAL);
    devices = new DeviceReader(top, external, mistakes);
    mounts = new MountReader(external || top.entries().containsKey(TeethReader.KEY), mistakes);
    Yaml.Mapping mount = mounts.of(top, "");
    Yaml.Mapping device = devices.ofPlan();
    List<DraftCondition> drafts =
        new ConditionReader(policies, settingsFiles, devices, mounts, mistakes)
            .read(group(top, "factors"), expected, mount);
    devices.check(drafts, faults);
    TeethReader ofTeeth = new TeethReader(top, mistakes);
    List<ExtractedTooth> teeth = ofTeeth.read(mounts.used(drafts));
    ofTeeth.check(teeth, head, drafts.size(), variations);
    filled = drawn || !teeth.isEmpty();
    List<PlannedCondition> conditions = new ArrayList<>();
    for (DraftCondition draft : drafts) {
      Sections scene = base.under(draft.scene());
      for (Variation v : variations) {
        scene
            .find(v.section(), v.parameter().key())
            .forEach(
                w ->
                    mistakes.add(
                        w.line(), w.path(), "is also drawn under vary, on line " + v.line()));
      }
      Settings told = settings == null ? null : settingsFiles.told(settings, stage, draft);
      checkFill(scene);
      ofTeeth.canal(teeth, scene);
      check(scene, variations, told, draft.stage().orElse(stage), drawn);
      Optional<Mount> mounted = mounts.read(draft.mount(), scene);
      if (told != null) {
        Map<String, Map<String, String>> written =
            complete(scene, told, draft.stage().orElse(stage));
        MountReader.warm(written, mounted);
        PlannedCondition condition =
            new PlannedCondition(
                draft.name(),
                draft.chosen(),
                draft.stage().orElse(stage),
                told,
                draft.expects(),
                written,
                drawn
                        || (filled
                            && scene
                                .find(PlanTables.FLUID, FluidSection.LEVEL.key())
                                .findAny()
                                .isEmpty())
                    ? Optional.of(fill(scene))
                    : Optional.empty(),
                FaultReader.both(faults, draft.faults()),
                devices.read(DeviceReader.under(device, draft.device())),
                mounted);
        ExpectationCheck.of(condition, draft.ownAt().orElse(line(top, "expect")), mistakes);
        conditions.add(condition);
      }
    }
    ofTeeth.scenes(teeth, conditions);
    ofTeeth.expectations(teeth, conditions);
    devices.checkClaims(group(top, "claims"), conditions);
    devices.checkRest(teeth, conditions);
    List<Claim> claims =
        ClaimReader.read(group(top, "claims"), head.getInt(PlanTables.TOLERANCE), mistakes);
    StatisticsChoice analysis =
        StatisticsReader.read(
            group(top, "analysis"),
            List.copyOf(group(top, "factors").entries().keySet()),
            mistakes);
    Optional<PlannedCondition> sentinel =
        sentinel(top, base, settings, stage, conditions.stream().findFirst());
    Protocol protocol =
        new ProtocolReader(top, !teeth.isEmpty(), mistakes).read(head, drafts, claims, analysis);
    mistakes.throwIfAny();
    return new Plan(
        source,
        Objects.requireNonNull(settings),
        settingsFiles.files(),
        new Plan.Head(
            name,
            purpose,
            stage,
            head.get(PlanTables.SEED),
            head.getInt(PlanTables.TRIALS),
            conditions.get(0).device().map(Device::standoffMicrons).orElse(standoff),
            head.getInt(PlanTables.TOLERANCE),
            head.get(PlanTables.TIME_LIMIT)),
        conditions,
        variations,
        teeth,
        claims,
        analysis,
        protocol,
        sentinel.orElseThrow());
  }

  /** The scene of the known-answer trials: the plan's own, with what they have of their own. */
  private Optional<PlannedCondition> sentinel(
      Yaml.Mapping top,
      Sections base,
      @Nullable Settings settings,
      Stage stage,
      Optional<PlannedCondition> first) {
    Yaml.Mapping own =
        Groups.of(group(top, ProtocolTables.SENTINELS), ProtocolTables.SCENE, mistakes);
    Sections scene =
        base.under(Sections.read(own, "sentinels.scene", PlanTables.SCENE, Set.of(), mistakes));
    check(scene, List.of(), settings, stage, false);
    return Optional.ofNullable(settings)
        .map(
            s ->
                new PlannedCondition(
                    SentinelRule.CONDITION,
                    Map.of(),
                    stage,
                    s,
                    s.controller().has(stage)
                            && s.controller().stage(stage).getInt(StageParameters.STANDOFF) < 0
                        ? Expectation.PATENCY
                        : Expectation.STOP,
                    complete(scene, s, stage),
                    Optional.empty(),
                    List.of(),
                    first.flatMap(PlannedCondition::device),
                    Optional.empty()));
  }

  /**
   * Checks a condition at both ends of every drawn value. A mistake at both ends is in the scene, a
   * mistake at one end is under vary.
   */
  private void check(
      Sections scene,
      List<Variation> variations,
      @Nullable Settings settings,
      Stage stage,
      boolean fromPopulation) {
    List<List<Fault>> faults = new ArrayList<>();
    for (int end = 0; end < 2; end++) {
      Map<String, Map<String, String>> values = complete(scene, settings, stage);
      for (Variation v : variations) {
        values
            .computeIfAbsent(v.section(), s -> new LinkedHashMap<>())
            .put(v.parameter().key(), v.ends().get(end));
      }
      faults.add(fromPopulation ? faultsInAll(fill(scene), values) : faults(values));
    }
    List<Fault> always = new ArrayList<>(faults.get(0));
    always.retainAll(faults.get(1));
    scene.place(always, "scene", mistakes);
    for (int end = 0; end < 2; end++) {
      for (Fault fault : faults.get(end)) {
        if (!always.contains(fault)) {
          drawnWrong(fault, variations, end);
        }
      }
    }
    if (settings != null) {
      mistakes.addAll(Agreement.check(source.name(), scene, settings.controller(), stage));
    }
  }

  private void drawnWrong(Fault fault, List<Variation> variations, int end) {
    Variation v =
        variations.stream()
            .filter(one -> fault.key().startsWith(one.section() + "."))
            .findFirst()
            .orElse(variations.get(0));
    String unit = v.parameter().unit().isEmpty() ? "" : " " + v.parameter().unit();
    mistakes.add(
        v.line(),
        "vary." + v.name(),
        "with " + v.ends().get(end) + unit + ", " + fault.key() + ": " + Sections.bare(fault));
  }

  /** How full a drawn canal is: half wet where the plan does not say. */
  private static Fill fill(Sections scene) {
    String word =
        scene
            .find(PlanTables.FLUID, PlanTables.FILL.key())
            .map(Sections.Written::text)
            .filter(PlanTables.FILL.choices()::contains)
            .findFirst()
            .orElse(PlanTables.FILL.choices().get(0));
    return Fill.valueOf(word.toUpperCase(Locale.ROOT));
  }

  private void checkFill(Sections scene) {
    scene
        .find(PlanTables.FLUID, PlanTables.FILL.key())
        .forEach(
            w -> {
              if (!PlanTables.FILL.choices().contains(w.text())) {
                mistakes.add(
                    w.line(),
                    w.path(),
                    w.text() + " is none of " + String.join(", ", PlanTables.FILL.choices()));
              } else if (!filled) {
                mistakes.add(
                    w.line(),
                    w.path(),
                    "needs draw: population or teeth; without it state "
                        + FluidSection.LEVEL.key()
                        + " or remove this key");
              }
              scene
                  .find(PlanTables.FLUID, FluidSection.LEVEL.key())
                  .forEach(
                      level ->
                          mistakes.add(
                              level.line(),
                              level.path(),
                              "is stated together with "
                                  + PlanTables.FILL.key()
                                  + " on line "
                                  + w.line()
                                  + "; remove one of the two"));
            });
  }

  /** The faults of what is stated if no drawn canal fits it. */
  private static List<Fault> faultsInAll(Fill fill, Map<String, Map<String, String>> stated) {
    try {
      new DrawnCanals(0).scene(0, fill, stated, 0, Tapes.NONE);
      return List.of();
    } catch (SettingsException e) {
      return e.faults();
    }
  }

  private static List<Fault> faults(Map<String, Map<String, String>> scene) {
    try {
      Scene.of(scene, 0);
      return List.of();
    } catch (SettingsException e) {
      return e.faults();
    }
  }

  /** Values missing in the scene follow the settings: same file, same frequencies. */
  private static Map<String, Map<String, String>> complete(
      Sections scene, @Nullable Settings settings, Stage stage) {
    Map<String, Map<String, String>> written = scene.texts();
    written.computeIfPresent(
        PlanTables.FLUID,
        (section, keys) -> {
          keys.remove(PlanTables.FILL.key());
          return keys;
        });
    if (settings != null) {
      Agreement.defaults(settings.controller(), stage)
          .forEach(
              (section, keys) ->
                  keys.forEach(
                      (key, value) ->
                          written
                              .computeIfAbsent(section, s -> new LinkedHashMap<>())
                              .putIfAbsent(key, value)));
    }
    return written;
  }

  private Yaml.Mapping group(Yaml.Mapping top, String key) {
    return Groups.of(top, key, mistakes);
  }

  private static int line(Yaml.Mapping top, String key) {
    return Groups.line(top, key);
  }
}
