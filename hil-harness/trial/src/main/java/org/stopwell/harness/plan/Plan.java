package org.stopwell.harness.plan;

import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.random.Tapes;

/**
 * A checked plan: conditions, number and order of trials, and claims. Trial {@code index} of
 * campaign seed {@code seed} is always the same trial.
 */
public final class Plan {
  private final Source source;
  private final Settings settings;
  private final Map<String, Settings> files;
  private final Head head;
  private final List<PlannedCondition> conditions;
  private final List<Variation> variations;
  private final List<ExtractedTooth> teeth;
  private final List<Claim> claims;
  private final StatisticsChoice analysis;
  private final Protocol protocol;
  private final PlannedCondition sentinel;
  private final TrialDraw draw;
  private final Map<String, ControllerSettings> told = new HashMap<>();

  /**
   * The plain values of a plan.
   *
   * @param name what the plan is called
   * @param purpose why it is run, in the words of its author
   * @param stage stage of work
   * @param seed campaign seed
   * @param trials trials per condition
   * @param standoffMicrons target distance short of the foramen, µm
   * @param toleranceMicrons half width of the tolerance band, µm
   * @param timeLimitNs bench time after which a trial ends, ns
   */
  public record Head(
      String name,
      String purpose,
      Stage stage,
      long seed,
      int trials,
      int standoffMicrons,
      int toleranceMicrons,
      long timeLimitNs) {
    private Head with(long otherSeed, int otherTrials) {
      return new Head(
          name,
          purpose,
          stage,
          otherSeed,
          otherTrials,
          standoffMicrons,
          toleranceMicrons,
          timeLimitNs);
    }
  }

  Plan(
      Source source,
      Settings settings,
      Map<String, Settings> files,
      Head head,
      List<PlannedCondition> conditions,
      List<Variation> variations,
      List<ExtractedTooth> teeth,
      List<Claim> claims,
      StatisticsChoice analysis,
      Protocol protocol,
      PlannedCondition sentinel) {
    this.source = source;
    this.settings = settings;
    this.files = Collections.unmodifiableMap(new LinkedHashMap<>(files));
    this.head = head;
    this.conditions = List.copyOf(conditions);
    this.variations = List.copyOf(variations);
    this.teeth = List.copyOf(teeth);
    this.claims = List.copyOf(claims);
    this.analysis = analysis;
    this.protocol = protocol.forTrials(tests());
    this.sentinel = sentinel;
    this.draw =
        new TrialDraw(
            this.head, this.conditions, this.variations, this.teeth, this.protocol, sentinel);
    conditions.forEach(condition -> told.put(condition.name(), condition.settings().controller()));
    told.put(sentinel.name(), sentinel.settings().controller());
  }

  /**
   * Reads and checks a plan and the settings it names.
   *
   * @param source the plan
   * @return the plan
   * @throws PlanException with every mistake in both files
   */
  public static Plan read(Source source) throws PlanException {
    return read(source, Policies.BUILT_IN);
  }

  /**
   * Reads and checks a plan with given settings, whatever settings it names.
   *
   * @param source the plan
   * @param settings the settings
   * @return the plan
   * @throws PlanException with every mistake in both files
   */
  public static Plan read(Source source, Source settings) throws PlanException {
    return read(source, settings, Policies.BUILT_IN);
  }

  /**
   * Reads and checks a plan and the settings it names, which may name policies that are not built
   * in.
   *
   * @param source the plan
   * @param policies the policies that the settings may name
   * @return the plan
   * @throws PlanException with every mistake in both files
   */
  public static Plan read(Source source, Policies policies) throws PlanException {
    return new PlanReader(source, null, policies).read();
  }

  /**
   * Reads and checks a plan with given settings, which may name policies that are not built in.
   *
   * @param source the plan
   * @param settings the settings
   * @param policies the policies that the settings may name
   * @return the plan
   * @throws PlanException with every mistake in both files
   */
  public static Plan read(Source source, Source settings, Policies policies) throws PlanException {
    return new PlanReader(source, settings, policies).read();
  }

  /**
   * The same plan with another seed and another number of trials.
   *
   * @param seed campaign seed
   * @param trials trials per condition, at least 1
   * @return the changed plan
   */
  public Plan with(long seed, int trials) {
    return new Plan(
        source,
        settings,
        files,
        head.with(seed, trials),
        conditions,
        variations,
        teeth,
        claims,
        analysis,
        protocol,
        sentinel);
  }

  /**
   * The sentinels of this plan alone, as a plan whose only condition they are. Their random numbers
   * are not those of any campaign of the plan.
   *
   * @param trials how many, at least 1
   * @return the plan
   */
  public Plan sentinelsAlone(int trials) {
    return new Plan(
        source,
        settings,
        Map.of(),
        head.with(RandomStream.of(head.seed, "known answer").nextLong() >>> 1, trials),
        List.of(sentinel),
        List.of(),
        List.of(),
        List.of(),
        StatisticsChoice.DEFAULT,
        Protocol.NONE,
        sentinel);
  }

  /**
   * The levels of a blinded factor.
   *
   * @return in the order of the plan; none when nothing is blinded
   */
  public List<String> blindedLevels() {
    return protocol
        .blinding()
        .map(
            b ->
                conditions.stream()
                    .map(c -> c.name().split("/", -1)[b.place()])
                    .distinct()
                    .toList())
        .orElse(List.of());
  }

  /**
   * How many trials there are, known-answer trials included.
   *
   * @return trials per condition times conditions, and the sentinels
   */
  public int trials() {
    int tests = tests();
    return protocol.sentinels().map(s -> Math.addExact(tests, s.count(tests))).orElse(tests);
  }

  private int tests() {
    return Math.multiplyExact(head.trials, conditions.size());
  }

  /**
   * One trial. Trials stand in blocks: every condition comes once in each block, in the order that
   * the protocol says.
   *
   * @param index position in run order, from 0
   * @return what to do
   */
  public TrialSpec trial(int index) {
    return trial(index, Tapes.NONE);
  }

  /**
   * One trial, some of whose random numbers come from tapes.
   *
   * @param index position in run order, from 0
   * @param tapes tapes in place of streams of its seed
   * @return what to do
   */
  public TrialSpec trial(int index, Tapes tapes) {
    return draw.trial(index, tapes);
  }

  /**
   * The only trial of a plan with one condition, with another seed and some values stated over
   * those of the plan.
   *
   * @param campaignSeed seed of the plan
   * @param stated values of the scene, by section and key
   * @throws SettingsException when the values contradict each other
   */
  TrialSpec alone(long campaignSeed, Map<String, Map<String, String>> stated)
      throws SettingsException {
    return draw.alone(campaignSeed, stated);
  }

  /**
   * The conditions as the statistics need them.
   *
   * @return one per condition, in the order of the plan
   */
  public List<Condition> conditions() {
    return conditions.stream()
        .map(
            condition ->
                new Condition(
                    condition.name(),
                    condition.expectation(),
                    head.trials,
                    condition.standoffMicrons(),
                    head.toleranceMicrons))
        .toList();
  }

  /**
   * The plan as it was written.
   *
   * @return its file
   */
  public Source source() {
    return source;
  }

  /**
   * The settings under test, as in their file; a level of a factor may put values over them.
   *
   * @return checked settings
   */
  public Settings settings() {
    return settings;
  }

  /**
   * The settings files that levels name in place of the plan's own.
   *
   * @return by the name in the plan
   */
  public Map<String, Settings> settingsFiles() {
    return files;
  }

  /**
   * All settings files in one text, from which the plan can be read again.
   *
   * @return the plan's own first
   */
  public String settingsText() {
    return SettingsFiles.text(settings.source(), files);
  }

  /**
   * Other settings in place of those that the plan names; those that its levels name stay.
   *
   * @param other the other settings file
   * @return the settings to read the plan with
   */
  public Source settingsWith(Source other) {
    return other.part(other.name(), SettingsFiles.text(other, files));
  }

  /**
   * Whether canals are drawn from the population of the virtual bench.
   *
   * @return true when a condition draws them
   */
  public boolean drawsCanals() {
    return teeth.isEmpty()
        && conditions.stream().anyMatch(condition -> condition.fill().isPresent());
  }

  /**
   * What the plan draws for each trial.
   *
   * @return keys with their sections, such as {@code canal.body_ohm}
   */
  public List<String> variedKeys() {
    return variations.stream().map(Variation::name).toList();
  }

  /**
   * The extracted teeth that the plan works on.
   *
   * @return in the order of the plan; none for a plan on models or networks
   */
  public List<ExtractedTooth> teeth() {
    return teeth;
  }

  /**
   * The extracted tooth of a trial.
   *
   * @param index position in run order, from 0
   * @return empty for a plan on models or networks
   */
  public Optional<ExtractedTooth> tooth(int index) {
    return teeth.isEmpty()
        ? Optional.empty()
        : Optional.of(teeth.get(index / conditions.size() / protocol.canalTrials()));
  }

  /**
   * The tooth of a trial of a device, as a code: trials with the same code are repeats on one
   * tooth. A simulated canal counts as a tooth; where trials do not share drawn canals, equal
   * canals are one tooth.
   *
   * @param trial a trial of this plan
   * @return empty on a network of components, which stands for no tooth
   */
  public String toothCode(TrialSpec trial) {
    return draw.toothCode(trial);
  }

  /**
   * Whether devices with a motor of their own are under test, in place of the controller.
   *
   * @return true with {@code controller: external}
   */
  public boolean isExternal() {
    return sentinel.device().isPresent();
  }

  /**
   * The device under test in a trial.
   *
   * @param trial a trial of this plan
   * @return empty where the controller of the settings decides
   */
  public Optional<Device> device(TrialSpec trial) {
    return conditions.stream()
        .filter(condition -> condition.name().equals(trial.condition()))
        .findFirst()
        .orElse(sentinel)
        .device();
  }

  /**
   * How the tooth of a scene is mounted.
   *
   * @param scene the scene of a trial of this plan
   * @return empty where the plan does not say
   */
  public Optional<Mount> mount(Scene scene) {
    return draw.mount(scene, trials());
  }

  /**
   * The greatest number of trials in a condition.
   *
   * @return as many as there are teeth for; without teeth there is no limit
   */
  public int mostTrials() {
    return teeth.isEmpty() ? Integer.MAX_VALUE : teeth.size() * protocol.canalTrials();
  }

  /**
   * The policies that the settings may name.
   *
   * @return what makes the policies of a controller
   */
  public Policies policies() {
    return settings.policies();
  }

  /**
   * The settings of the controller in a trial.
   *
   * @param trial a trial of this plan
   * @return checked settings
   */
  public ControllerSettings controller(TrialSpec trial) {
    if (isExternal()) {
      throw new IllegalStateException("a plan with controller: external runs no controller");
    }
    return written(trial);
  }

  /**
   * The settings that a trial names, whoever decides: with {@code controller: external} a board at
   * a port can hold them.
   *
   * @param trial a trial of this plan
   * @return checked settings
   */
  public ControllerSettings written(TrialSpec trial) {
    return Objects.requireNonNull(told.get(trial.condition()));
  }

  /**
   * The plain values.
   *
   * @return name, purpose, stage, seed, counts and limits
   */
  public Head head() {
    return head;
  }

  /**
   * The conditions: every level of every factor with every level of every other.
   *
   * @return at least one
   */
  public List<PlannedCondition> plannedConditions() {
    return conditions;
  }

  /**
   * Whether the plan has deliberate faults.
   *
   * @return true when a condition has faults
   */
  public boolean hasFaults() {
    return conditions.stream().anyMatch(condition -> !condition.faults().isEmpty());
  }

  /**
   * What the plan fixes beside its trials.
   *
   * @return its protocol
   */
  public Protocol protocol() {
    return protocol;
  }

  /**
   * The claims of the plan.
   *
   * @return none, one or several claims
   */
  public List<Claim> claims() {
    return claims;
  }

  /**
   * Which statistics the plan asks for beside its claims.
   *
   * @return its choice
   */
  public StatisticsChoice analysis() {
    return analysis;
  }
}
