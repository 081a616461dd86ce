package org.stopwell.harness.record;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.plan.Mistake;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.protocol.BlindKey;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.trial.Condition;
import org.stopwell.rig.bench.BenchDescription;

/**
 * The campaign before its first trial. Written once, first in the hash chain.
 *
 * @param planName name of the plan
 * @param planYaml the plan, word for word
 * @param settingsYaml the controller settings, word for word
 * @param build version of this software
 * @param bench what the trials ran on
 * @param campaignSeed seed from which every trial's seed comes
 * @param conditions the conditions in plan order; their planned trials add up to the campaign's
 * @param claims what the campaign sets out to show; may be empty
 * @param startedAt date and time of the start, as the caller writes it
 * @param command the command line that reproduces it
 * @param protocol what the plan fixes beside its trials
 * @param registration the freeze that it ran under, and every deviation from it
 * @param design the checked values of the plan beside conditions, claims and protocol
 * @param origin where the stops were measured, and of which device
 */
public record RunHeader(
    String planName,
    String planYaml,
    String settingsYaml,
    String build,
    BenchDescription bench,
    long campaignSeed,
    List<Condition> conditions,
    List<Claim> claims,
    String startedAt,
    String command,
    Protocol protocol,
    Registration registration,
    Design design,
    Origin origin) {

  /** Takes copies of the lists. */
  public RunHeader {
    conditions = List.copyOf(conditions);
    claims = List.copyOf(claims);
  }

  /**
   * A campaign of a plan that was not frozen and fixes nothing beside its trials.
   *
   * @param planName name of the plan
   * @param planYaml the plan, word for word
   * @param settingsYaml the controller settings, word for word
   * @param build version of this software
   * @param bench what the trials ran on
   * @param campaignSeed seed from which every trial's seed comes
   * @param conditions the conditions in plan order
   * @param claims what the campaign sets out to show
   * @param startedAt date and time of the start
   * @param command the command line that reproduces it
   */
  public RunHeader(
      String planName,
      String planYaml,
      String settingsYaml,
      String build,
      BenchDescription bench,
      long campaignSeed,
      List<Condition> conditions,
      List<Claim> claims,
      String startedAt,
      String command) {
    this(
        planName,
        planYaml,
        settingsYaml,
        build,
        bench,
        campaignSeed,
        conditions,
        claims,
        startedAt,
        command,
        Protocol.NONE,
        Registration.NONE,
        Design.PLAIN);
  }

  /**
   * A campaign that was measured here, with a controller of this program.
   *
   * @param planName name of the plan
   * @param planYaml the plan, word for word
   * @param settingsYaml the controller settings, word for word
   * @param build version of this software
   * @param bench what the trials ran on
   * @param campaignSeed seed from which every trial's seed comes
   * @param conditions the conditions in plan order
   * @param claims what the campaign sets out to show
   * @param startedAt date and time of the start
   * @param command the command line that reproduces it
   * @param protocol what the plan fixes beside its trials
   * @param registration the freeze that it ran under
   * @param design the checked values of the plan
   */
  public RunHeader(
      String planName,
      String planYaml,
      String settingsYaml,
      String build,
      BenchDescription bench,
      long campaignSeed,
      List<Condition> conditions,
      List<Claim> claims,
      String startedAt,
      String command,
      Protocol protocol,
      Registration registration,
      Design design) {
    this(
        planName,
        planYaml,
        settingsYaml,
        build,
        bench,
        campaignSeed,
        conditions,
        claims,
        startedAt,
        command,
        protocol,
        registration,
        design,
        Origin.HERE);
  }

  /**
   * A campaign of a plan.
   *
   * @param plan the plan, with the seed and the number of trials it is run with
   * @param build version of this software
   * @param bench what the trials run on
   * @param startedAt date and time of the start
   * @param command the command line that reproduces it
   * @param registration the freeze that it runs under
   * @return its header
   */
  public static RunHeader of(
      Plan plan,
      String build,
      BenchDescription bench,
      String startedAt,
      String command,
      Registration registration) {
    return new RunHeader(
        plan.head().name(),
        plan.source().text(),
        plan.settingsText(),
        build,
        bench,
        plan.head().seed(),
        plan.conditions(),
        plan.claims(),
        startedAt,
        command,
        plan.protocol(),
        registration,
        Design.of(plan));
  }

  /**
   * The same campaign with other conditions.
   *
   * @param others in plan order
   * @return the changed header
   */
  public RunHeader with(List<Condition> others) {
    return with(others, claims, protocol);
  }

  /**
   * The same campaign with other conditions, claims and protocol.
   *
   * @param others conditions in plan order
   * @param shown claims, which name conditions
   * @param fixed what the plan fixes beside its trials
   * @return the changed header
   */
  RunHeader with(List<Condition> others, List<Claim> shown, Protocol fixed) {
    return new RunHeader(
        planName,
        planYaml,
        settingsYaml,
        build,
        bench,
        campaignSeed,
        others,
        shown,
        startedAt,
        command,
        fixed,
        registration,
        design,
        origin);
  }

  /**
   * What a number of this run must be called wherever it is shown.
   *
   * @return {@code simulated}, {@code not measured here}, or nothing for a number of a physical
   *     bench
   */
  public String label() {
    return origin.imported() ? Origin.NOT_HERE : bench.simulated() ? "simulated" : "";
  }

  /**
   * The header of a blinded run as its run file holds it.
   *
   * @param key the key, whose commitment it holds
   * @return with the conditions under their codes
   */
  public RunHeader coded(BlindKey key) {
    RunHeader coded = ConditionNames.coding(this, key).of(this);
    return coded.with(
        coded.conditions(),
        coded.claims(),
        protocol.with(protocol.blinding().orElseThrow().committedTo(key)));
  }

  /**
   * Whether the levels of a factor go by codes here.
   *
   * @return true for a blinded run that is not unblinded
   */
  public boolean isCoded() {
    return protocol.blinding().filter(b -> !b.open()).isPresent();
  }

  /**
   * How many trials the plan asks for.
   *
   * @return sum over all conditions
   */
  public int plannedTrials() {
    return conditions.stream().mapToInt(Condition::plannedTrials).sum();
  }

  /**
   * The plan of the run. Keys that earlier versions wrote are read by their present names.
   *
   * @param policies the policies that plan and settings may name
   * @return the recorded plan, without the seed and the number of trials of this run
   * @throws PlanException with all mistakes, when this program cannot read it or when the stops
   *     were not measured here, so that no trial can be run again
   */
  public Plan plan(Policies policies) throws PlanException {
    if (origin.imported()) {
      throw new PlanException(
          List.of(
              new Mistake(
                  planName,
                  0,
                  "",
                  "the stops of this run were not measured here: they come from "
                      + origin.table()
                      + ", and no trial can be run again. report, compare, export, sign and verify"
                      + " work on it")));
    }
    return Plan.read(
        new Source("the recorded plan", OlderWords.renewed(planYaml)),
        new Source("the recorded settings", OlderWords.renewed(settingsYaml), weightsTexts()),
        policies);
  }

  /**
   * The weights that the run file keeps, by name; those that came with the program are not kept.
   */
  private Map<String, String> weightsTexts() {
    Map<String, String> texts = new LinkedHashMap<>();
    for (Design.Weights one : design.weights()) {
      if (!one.text().isEmpty()) {
        texts.put(one.name(), one.text());
      }
    }
    return texts;
  }
}
