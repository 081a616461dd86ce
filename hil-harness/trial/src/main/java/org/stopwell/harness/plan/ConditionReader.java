package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.PlannedFault;

/** Crosses the factors of a plan: one condition for each choice of a level of every factor. */
final class ConditionReader {
  /** Largest number of conditions; a plan with more is a mistake. */
  private static final int MAX_CONDITIONS = 1000;

  private final Policies policies;
  private final PlanSettings settings;
  private final DeviceReader devices;
  private final MountReader mounts;
  private final Mistakes mistakes;

  ConditionReader(
      Policies policies,
      PlanSettings settings,
      DeviceReader devices,
      MountReader mounts,
      Mistakes mistakes) {
    this.policies = policies;
    this.settings = settings;
    this.devices = devices;
    this.mounts = mounts;
    this.mistakes = mistakes;
  }

  /** Every level of every factor with every level of every other. */
  List<DraftCondition> read(Yaml.Mapping factors, Expectation ofPlan, Yaml.Mapping mount) {
    Sections nothing = Sections.read(Yaml.Mapping.empty(0), "", Map.of(), Set.of(), mistakes);
    Settings.Overlay asTheyAre =
        Settings.Overlay.read(Yaml.Mapping.empty(factors.line()), "", policies, mistakes);
    DraftCondition bare =
        new DraftCondition(
            "all",
            Map.of(),
            factors.line(),
            ofPlan,
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            asTheyAre,
            nothing,
            List.of(),
            Yaml.Mapping.empty(factors.line()),
            mount);
    List<DraftCondition> drafts = List.of(bare);
    for (Map.Entry<String, Yaml.Entry> factor : factors.entries().entrySet()) {
      String path = "factors." + factor.getKey();
      if (!(factor.getValue().value() instanceof Yaml.Mapping levels)
          || levels.entries().isEmpty()) {
        mistakes.add(factor.getValue().line(), path, "a factor needs levels");
        continue;
      }
      List<DraftCondition> crossed = new ArrayList<>();
      for (DraftCondition before : drafts) {
        levels
            .entries()
            .forEach((word, entry) -> crossed.add(level(before, factor.getKey(), word, entry)));
      }
      if (crossed.size() > MAX_CONDITIONS) {
        mistakes.add(
            factor.getValue().line(),
            path,
            crossed.size() + " conditions, at most " + MAX_CONDITIONS + " are allowed");
        return drafts;
      }
      drafts = crossed;
    }
    return drafts;
  }

  private DraftCondition level(
      DraftCondition before, String factor, String word, Yaml.Entry entry) {
    String path = "factors." + factor + "." + word;
    if (!FreeText.isName(word)) {
      mistakes.add(entry.line(), path, FreeText.notName(word));
    }
    Optional<Expectation> expected = before.own();
    Optional<Integer> expectsAt = before.ownAt();
    Sections scene = before.scene();
    List<PlannedFault> faults = before.faults();
    Optional<Stage> stage = before.stage();
    Settings.Overlay told = before.told();
    Yaml.Mapping device = before.device();
    Yaml.Mapping mount = before.mount();
    if (entry.value() instanceof Yaml.Mapping inside) {
      ParameterValues own = Sections.resolve(inside, path, PlanTables.LEVEL, beside(), mistakes);
      faults = FaultReader.both(faults, FaultReader.read(inside, path, mistakes));
      if (own.isGiven(PlanTables.EXPECT)) {
        int at = Groups.line(inside, PlanTables.EXPECT.key());
        Expectation said = Expectation.values()[(int) own.get(PlanTables.EXPECT)];
        Expectation other = before.own().orElse(Expectation.STOP);
        boolean compared = said == Expectation.COMPARE || other == Expectation.COMPARE;
        if (!compared && said != Expectation.STOP && other != Expectation.STOP && said != other) {
          mistakes.add(
              at,
              Sections.join(path, PlanTables.EXPECT.key()),
              "a condition cannot expect both "
                  + own.choice(PlanTables.EXPECT)
                  + " and "
                  + Expectation.keys().get(other.ordinal()));
        }
        if (other != Expectation.COMPARE
            && (said != Expectation.STOP || other == Expectation.STOP)) {
          expected = Optional.of(said);
          expectsAt = Optional.of(at);
        }
      }
      if (!own.choice(PlanTables.LEVEL_STAGE).equals(PlanTables.OF_PLAN)) {
        stage = Optional.of(Stage.ofCode((int) own.get(PlanTables.LEVEL_STAGE) - 1));
      }
      device = DeviceReader.under(device, devices.of(inside, path));
      mount = DeviceReader.under(mount, mounts.of(inside, path));
      Yaml.Entry named = inside.entries().get(PlanReader.SETTINGS);
      if (named != null) {
        devices.refuseSettings(named.line(), Sections.join(path, PlanReader.SETTINGS));
      }
      if (named != null
          && named.value() instanceof Yaml.Scalar file
          && file.sort() == Yaml.Sort.TEXT) {
        told =
            settings
                .file(file.text(), named.line(), Sections.join(path, PlanReader.SETTINGS))
                .map(Settings.Overlay::of)
                .map(told::under)
                .orElse(told);
      } else if (named != null) {
        told =
            told.under(
                Settings.Overlay.read(
                    Groups.of(inside, path, PlanReader.SETTINGS, mistakes),
                    Sections.join(path, PlanReader.SETTINGS),
                    policies,
                    mistakes));
      }
      scene =
          scene.under(
              Sections.read(
                  without(inside, PlanTables.LEVEL), path, PlanTables.SCENE, beside(), mistakes));
    } else if (!(entry.value() instanceof Yaml.Scalar s && s.sort() == Yaml.Sort.NOTHING)) {
      mistakes.add(entry.line(), path, entry.value().notA("a group of keys"));
    }
    Map<String, String> chosen = new LinkedHashMap<>(before.chosen());
    chosen.put(factor, word);
    String name = before.chosen().isEmpty() ? word : before.name() + "/" + word;
    return new DraftCondition(
        name,
        chosen,
        entry.line(),
        before.ofPlan(),
        expected,
        expectsAt,
        stage,
        told,
        scene,
        faults,
        device,
        mount);
  }

  /** What a level may hold beside its own keys. */
  private static Set<String> beside() {
    Set<String> keys = new TreeSet<>(PlanTables.SCENE.keySet());
    keys.add(FaultReader.KEY);
    keys.add(PlanReader.SETTINGS);
    keys.add(DeviceReader.KEY);
    keys.add(MountReader.KEY);
    return keys;
  }

  /** Unknown keys of a level were named when it was resolved. */
  private static Yaml.Mapping without(Yaml.Mapping at, ParameterTable table) {
    Map<String, Yaml.Entry> kept = new LinkedHashMap<>(at.entries());
    table.parameters().forEach(p -> kept.remove(p.key()));
    return new Yaml.Mapping(kept, at.line());
  }
}
