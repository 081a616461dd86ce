package org.stopwell.harness.protocol;

import java.util.Collections;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What a plan fixes beside its trials: order, primary endpoint, proof of the rig, exclusions, and
 * stopping rule.
 *
 * @param order order of the conditions
 * @param canalTrials trials of each condition that share one drawn canal
 * @param commonCanals whether all conditions work on the same drawn canals
 * @param primary the endpoint that decides, empty when none is named
 * @param secondary the endpoints that are reported beside it
 * @param blinding the coded factor, empty when nothing is coded
 * @param sentinels the known-answer trials, empty when there are none
 * @param afterRigFault how many trials after a rig fault are excluded
 * @param lateStepNs a step later than this excludes its trial, ns; 0 leaves it to the bench
 * @param stopping when the campaign ends
 * @param sizes how many trials each claim needs, where the plan says what to reckon with
 * @param whys why each claim is held against its limit, in the words of the plan's author
 */
public record Protocol(
    Order order,
    int canalTrials,
    boolean commonCanals,
    Optional<Endpoint> primary,
    List<Endpoint> secondary,
    Optional<Blinding> blinding,
    Optional<SentinelRule> sentinels,
    int afterRigFault,
    long lateStepNs,
    StoppingRule stopping,
    Map<Claim.Endpoint, Long> sizes,
    Map<Claim.Endpoint, String> whys) {
  /** A plan that fixes nothing beside its trials. */
  public static final Protocol NONE =
      new Protocol(
          Order.BLOCKS,
          1,
          false,
          Optional.empty(),
          List.of(),
          Optional.empty(),
          Optional.empty(),
          0,
          0,
          StoppingRule.FIXED,
          Map.of(),
          Map.of());

  /** Takes copies. */
  public Protocol {
    secondary = List.copyOf(secondary);
    sizes = copy(sizes);
    whys = copy(whys);
  }

  private static <T> Map<Claim.Endpoint, T> copy(Map<Claim.Endpoint, T> map) {
    Map<Claim.Endpoint, T> copy = new EnumMap<>(Claim.Endpoint.class);
    copy.putAll(map);
    return Collections.unmodifiableMap(copy);
  }

  /**
   * Whether trials share drawn canals: several of a condition, or those of different conditions.
   *
   * @return false when every trial has its own
   */
  public boolean sharesCanals() {
    return canalTrials > 1 || commonCanals;
  }

  /**
   * The same protocol with another blinding.
   *
   * @param other the coded factor
   * @return the changed protocol
   */
  public Protocol with(Blinding other) {
    return with(Optional.of(other), sentinels);
  }

  /**
   * The same protocol for a number of trials, which decides the limits of the sentinels.
   *
   * @param trials trials under test
   * @return the changed protocol
   */
  public Protocol forTrials(int trials) {
    return with(blinding, sentinels.map(s -> s.forTrials(trials)));
  }

  private Protocol with(Optional<Blinding> coded, Optional<SentinelRule> known) {
    return new Protocol(
        order,
        canalTrials,
        commonCanals,
        primary,
        secondary,
        coded,
        known,
        afterRigFault,
        lateStepNs,
        stopping,
        sizes,
        whys);
  }

  /**
   * The values that differ from {@link #NONE}, as stored in a run file.
   *
   * @return texts by key; none for {@link #NONE}
   */
  public Map<String, String> rows() {
    Map<String, String> rows = new LinkedHashMap<>();
    if (order != Order.BLOCKS) {
      rows.put("order", order.key());
    }
    if (canalTrials != 1) {
      rows.put("canal_trials", Integer.toString(canalTrials));
    }
    if (commonCanals) {
      rows.put("common_canals", "population");
    }
    primary.ifPresent(p -> rows.put("primary", p.key()));
    if (!secondary.isEmpty()) {
      rows.put("secondary", String.join(" ", secondary.stream().map(Endpoint::key).toList()));
    }
    blinding.ifPresent(
        b -> {
          rows.put("blind.factor", b.factor());
          rows.put("blind.place", Integer.toString(b.place()));
          if (!b.commitment().isEmpty()) {
            rows.put("blind.commitment", b.commitment());
          }
          b.codes().forEach((level, code) -> rows.put("blind.code." + level, code));
        });
    sentinels.ifPresent(
        s -> {
          rows.put("sentinel.every", Integer.toString(s.every()));
          rows.put("sentinel.expected_um", Integer.toString(s.expectedMicrons()));
          rows.put("sentinel.sd_um", Integer.toString(s.deviationMicrons()));
          if (s.stops()) {
            rows.put("sentinel.on_bad", "stop");
          }
          if (s.learnedFrom() > 0) {
            rows.put("sentinel.learned_from", Integer.toString(s.learnedFrom()));
            rows.put("sentinel.planned", Integer.toString(s.planned()));
            rows.put("sentinel.widening_sd", Double.toString(s.widening()));
          }
        });
    if (afterRigFault != 0) {
      rows.put("exclude.after_rig_fault", Integer.toString(afterRigFault));
    }
    if (lateStepNs != 0) {
      rows.put("exclude.late_step_ns", Long.toString(lateStepNs));
    }
    if (stopping.kind() != StoppingRule.Kind.FIXED) {
      rows.put("stop.rule", stopping.kind().key());
      rows.put("stop.claim", stopping.claim().key());
      rows.put("stop.good_share", Double.toString(stopping.goodShare()));
      rows.put("stop.power", Double.toString(stopping.power()));
      rows.put("stop.looks", Integer.toString(stopping.looks()));
      rows.put("stop.shape", Double.toString(stopping.shape()));
    }
    sizes.forEach((claim, trials) -> rows.put("size." + claim.key(), trials.toString()));
    whys.forEach((claim, why) -> rows.put("why." + claim.key(), why));
    return rows;
  }

  /**
   * The protocol that a run file holds.
   *
   * @param rows texts by key
   * @return the protocol
   * @throws IllegalArgumentException when a word or a number is not one
   */
  public static Protocol of(Map<String, String> rows) {
    Map<Claim.Endpoint, String> whys = new EnumMap<>(Claim.Endpoint.class);
    beginning("why.", rows).forEach((key, why) -> whys.put(Claim.Endpoint.ofKey(key), why));
    Map<Claim.Endpoint, Long> sizes = new EnumMap<>(Claim.Endpoint.class);
    beginning("size.", rows)
        .forEach((key, trials) -> sizes.put(Claim.Endpoint.ofKey(key), Long.valueOf(trials)));
    return new Protocol(
        Order.ofKey(rows.getOrDefault("order", Order.BLOCKS.key())),
        integer(rows, "canal_trials", 1),
        rows.containsKey("common_canals"),
        Optional.ofNullable(rows.get("primary")).map(Endpoint::ofKey),
        Stream.of(rows.getOrDefault("secondary", "").split(" ", -1))
            .filter(key -> !key.isEmpty())
            .map(Endpoint::ofKey)
            .toList(),
        Optional.ofNullable(rows.get("blind.factor"))
            .map(
                factor ->
                    new Blinding(
                        factor,
                        integer(rows, "blind.place", 0),
                        rows.getOrDefault("blind.commitment", ""),
                        beginning("blind.code.", rows),
                        /* open= */ false)),
        rows.containsKey("sentinel.every")
            ? Optional.of(
                new SentinelRule(
                    integer(rows, "sentinel.every", 1),
                    integer(rows, "sentinel.expected_um", 0),
                    integer(rows, "sentinel.sd_um", 1),
                    rows.containsKey("sentinel.on_bad"),
                    integer(rows, "sentinel.learned_from", 0),
                    integer(rows, "sentinel.planned", 0),
                    real(rows, "sentinel.widening_sd")))
            : Optional.empty(),
        integer(rows, "exclude.after_rig_fault", 0),
        Long.parseLong(rows.getOrDefault("exclude.late_step_ns", "0")),
        stopping(rows),
        sizes,
        whys);
  }

  private static StoppingRule stopping(Map<String, String> rows) {
    String kind = rows.get("stop.rule");
    return kind == null
        ? StoppingRule.FIXED
        : new StoppingRule(
            StoppingRule.Kind.ofKey(kind),
            Claim.Endpoint.ofKey(rows.getOrDefault("stop.claim", "")),
            real(rows, "stop.good_share"),
            real(rows, "stop.power"),
            integer(rows, "stop.looks", 1),
            real(rows, "stop.shape"));
  }

  private static Map<String, String> beginning(String with, Map<String, String> rows) {
    Map<String, String> found = new LinkedHashMap<>();
    rows.forEach(
        (key, value) -> {
          if (key.startsWith(with)) {
            found.put(key.substring(with.length()), value);
          }
        });
    return found;
  }

  private static int integer(Map<String, String> rows, String key, int otherwise) {
    return Integer.parseInt(rows.getOrDefault(key, Integer.toString(otherwise)));
  }

  private static double real(Map<String, String> rows, String key) {
    return Double.parseDouble(rows.getOrDefault(key, "0"));
  }
}
