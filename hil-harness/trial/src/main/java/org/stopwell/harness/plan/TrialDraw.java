package org.stopwell.harness.plan;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.random.Tapes;

/** Draws the trials of a plan: condition, canal and values of each, from the campaign seed. */
final class TrialDraw {
  private final Plan.Head head;
  private final List<PlannedCondition> conditions;
  private final List<Variation> variations;
  private final List<ExtractedTooth> teeth;
  private final Protocol protocol;
  private final PlannedCondition sentinel;
  private final DrawnCanals canals;

  TrialDraw(
      Plan.Head head,
      List<PlannedCondition> conditions,
      List<Variation> variations,
      List<ExtractedTooth> teeth,
      Protocol protocol,
      PlannedCondition sentinel) {
    this.head = head;
    this.conditions = conditions;
    this.variations = variations;
    this.teeth = teeth;
    this.protocol = protocol;
    this.sentinel = sentinel;
    this.canals = new DrawnCanals(head.seed());
  }

  private int tests() {
    return Math.multiplyExact(head.trials(), conditions.size());
  }

  /** One trial, some of whose random numbers come from tapes. */
  TrialSpec trial(int index, Tapes tapes) {
    int test = protocol.sentinels().map(s -> s.testAt(index, tests(), head.seed())).orElse(index);
    long seed = RandomStream.trialSeed(head.seed(), index);
    if (test < 0) {
      return spec(index, sentinel, Map.of(), 0, seed, tapes);
    }
    int block = test / conditions.size();
    int[] order = protocol.order().of(block, conditions.size(), head.seed());
    Map<String, Map<String, String>> drawn = new LinkedHashMap<>();
    int canal = block / protocol.canalTrials();
    for (Variation v : variations) {
      boolean shared = protocol.sharesCanals() && v.section().equals("canal");
      RandomStream stream =
          shared
              ? RandomStream.of(head.seed(), v.name() + " of canal " + canal, tapes)
              : RandomStream.of(seed, v.name(), tapes);
      drawn
          .computeIfAbsent(v.section(), s -> new LinkedHashMap<>())
          .put(v.parameter().key(), v.draw(stream));
    }
    return spec(index, conditions.get(order[test % conditions.size()]), drawn, canal, seed, tapes);
  }

  /** The only trial of a plan with one condition, with another seed and values stated over it. */
  TrialSpec alone(long campaignSeed, Map<String, Map<String, String>> stated)
      throws SettingsException {
    long seed = RandomStream.trialSeed(campaignSeed, 0);
    Map<String, Map<String, String>> drawn = new LinkedHashMap<>();
    for (Variation v : variations) {
      drawn
          .computeIfAbsent(v.section(), s -> new LinkedHashMap<>())
          .put(v.parameter().key(), v.draw(RandomStream.of(seed, v.name())));
    }
    stated.forEach(
        (section, keys) -> drawn.computeIfAbsent(section, s -> new LinkedHashMap<>()).putAll(keys));
    PlannedCondition condition = conditions.get(0);
    Map<String, Map<String, String>> written = condition.with(drawn);
    Scene scene =
        condition.fill().isPresent()
            ? new DrawnCanals(campaignSeed)
                .scene(0, condition.fill().get(), written, seed, Tapes.NONE)
            : Scene.of(written, seed);
    return spec(0, condition, scene);
  }

  private TrialSpec spec(
      int index,
      PlannedCondition condition,
      Map<String, Map<String, String>> drawn,
      int canal,
      long seed,
      Tapes tapes) {
    return spec(index, condition, scene(condition, condition.with(drawn), canal, seed, tapes));
  }

  private TrialSpec spec(int index, PlannedCondition condition, Scene scene) {
    return new TrialSpec(
        index,
        condition.name(),
        condition.expectation(),
        condition.stage(),
        condition.standoffMicrons(),
        head.toleranceMicrons(),
        condition.depthLimitMicrons(),
        condition.torqueLimitMicroNewtonMetres(),
        head.timeLimitNs(),
        scene,
        condition.faults());
  }

  private Scene scene(
      PlannedCondition condition,
      Map<String, Map<String, String>> written,
      int canal,
      long seed,
      Tapes tapes) {
    try {
      if (!teeth.isEmpty()) {
        return ToothScene.of(teeth.get(canal), condition, written, seed);
      }
      Optional<Fill> fill = condition.fill();
      return fill.isPresent()
          ? canals.scene(canal, fill.get(), written, seed, tapes)
          : Scene.of(written, seed).seeded(seed, tapes);
    } catch (SettingsException e) {
      // The reader has checked the ends of every variation; between them nothing else can go wrong
      // unless two variations contradict each other in the middle only.
      throw new IllegalStateException("a drawn scene is impossible: " + e.getMessage(), e);
    }
  }

  /** The tooth of a trial of a device, as a code. */
  String toothCode(TrialSpec trial) {
    ParameterValues canal = trial.scene().section("canal");
    if (CanalSection.kind(canal).isBuilt()) {
      return "";
    }
    int index = trial.index();
    int test = protocol.sentinels().map(s -> s.testAt(index, tests(), head.seed())).orElse(index);
    if (test >= 0 && (!teeth.isEmpty() || protocol.sharesCanals())) {
      int number = test / conditions.size() / protocol.canalTrials();
      return teeth.isEmpty() ? "canal-" + (number + 1) : teeth.get(number).name();
    }
    return "canal-" + fingerprint(canal);
  }

  /** Equal canals have equal texts. */
  private static String fingerprint(ParameterValues canal) {
    long hash = 0xCBF29CE484222325L; // Fowler-Noll-Vo, 64 bits, variant 1a, over whole values
    for (Parameter parameter : canal.table().parameters()) {
      hash = (hash ^ canal.get(parameter)) * 0x100000001B3L;
    }
    return Long.toHexString(hash >>> 24);
  }

  /** How the tooth of a scene is mounted; empty where the plan does not say. */
  Optional<Mount> mount(Scene scene, int trials) {
    if (conditions.stream().allMatch(c -> c.mount().isEmpty())) {
      return Optional.empty();
    }
    return IntStream.range(0, trials)
        .filter(i -> RandomStream.trialSeed(head.seed(), i) == scene.seed())
        .mapToObj(i -> trial(i, Tapes.NONE))
        .flatMap(t -> conditions.stream().filter(c -> c.name().equals(t.condition())))
        .flatMap(c -> c.mount().stream())
        .findFirst();
  }
}
