package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import org.stopwell.harness.protocol.BlindKey;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;

/**
 * A checked plan of stops that are measured elsewhere: what they are held against, and what they
 * must show. Nothing is run.
 *
 * @param source the file
 * @param name what the plan is called
 * @param purpose why it is done, in the words of its author
 * @param place who measures, in the words of the plan; may be empty
 * @param toleranceMicrons half width of the tolerance band around the standoff, µm
 * @param uncertaintyMicrons expanded uncertainty of a distance, 95 %, µm; 0 when not stated
 * @param constrictionBoundMicrons U95 of the distance from constriction to foramen where the table
 *     states none, µm
 * @param trials rows of each device at each setting; 0: as many as the table has
 * @param standoffMicrons the distance short of the foramen that each setting claims, µm, by the
 *     code of the setting
 * @param devices codes of the devices; empty: as in the table
 * @param operators codes of the operators, for a schedule; may be empty
 * @param teeth codes of the teeth, for a schedule; may be empty
 * @param seed seed of a schedule
 * @param claims what the stops must show
 * @param analysis further statistics
 * @param protocol endpoints, blinding and reasons
 */
public record StopPlan(
    Source source,
    String name,
    String purpose,
    String place,
    int toleranceMicrons,
    int uncertaintyMicrons,
    int constrictionBoundMicrons,
    int trials,
    Map<String, Integer> standoffMicrons,
    List<String> devices,
    List<String> operators,
    List<String> teeth,
    long seed,
    List<Claim> claims,
    StatisticsChoice analysis,
    Protocol protocol) {
  /**
   * Greatest U95 of the place of a constriction, µm (assumed: with a greater one the constriction
   * cannot be told from the foramen, which is some 0.5 mm away).
   */
  public static final int MOST_CONSTRICTION_BOUND_MICRONS = 100;

  /** The factors that make the name of a condition. */
  public static final List<String> FACTORS = List.of("device", "setting");

  /** Takes copies in the order of the plan. */
  public StopPlan {
    standoffMicrons = Collections.unmodifiableMap(new LinkedHashMap<>(standoffMicrons));
    devices = List.copyOf(devices);
    operators = List.copyOf(operators);
    teeth = List.copyOf(teeth);
    claims = List.copyOf(claims);
  }

  /**
   * Reads and checks a plan.
   *
   * @param source the file
   * @return the plan
   * @throws PlanException with every mistake in it
   */
  public static StopPlan read(Source source) throws PlanException {
    return new StopPlanReader(source).read();
  }

  /**
   * The same plan for a table whose devices go by codes.
   *
   * @param key which code is which device
   * @return with the codes as its devices, committed to the key
   */
  public StopPlan coded(BlindKey key) {
    return new StopPlan(
        source,
        name,
        purpose,
        place,
        toleranceMicrons,
        uncertaintyMicrons,
        constrictionBoundMicrons,
        trials,
        standoffMicrons,
        List.copyOf(key.levels().keySet()),
        operators,
        teeth,
        seed,
        claims,
        analysis,
        protocol.with(protocol.blinding().orElseThrow().committedTo(key)));
  }

  /**
   * The conditions of a table: each device at each setting that occurs.
   *
   * @param planned planned trials by the name of the condition
   * @return in the order of the names
   */
  public List<Condition> conditions(SortedMap<String, Integer> planned) {
    List<Condition> conditions = new ArrayList<>();
    planned.forEach(
        (name, trials) ->
            conditions.add(
                new Condition(
                    name,
                    Expectation.STOP,
                    trials,
                    standoffMicrons.getOrDefault(analysis.level(name, FACTORS.get(1)), 0),
                    toleranceMicrons)));
    return List.copyOf(conditions);
  }
}
