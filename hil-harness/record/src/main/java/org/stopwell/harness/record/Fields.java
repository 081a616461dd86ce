package org.stopwell.harness.record;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Deviation;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.BenchDescription;

/** The fields of each kind of entry, in the order of its table and of the hash chain. */
final class Fields {
  static final String FROZEN = "frozen.sha256";
  static final String FROZEN_AT = "frozen.at";
  static final String LEDGER_RUN = "ledger.run";
  static final String LEDGER_HEAD = "ledger.head";
  static final String DESIGN = "design";
  static final String SETUP = "bench.setup";

  /** From version 4 on, before the endpoint of a claim: whether it is about each condition. */
  private static final String EACH = "each.";

  /** From version 4 on, before the endpoint of a claim: the refusals that it tolerates. */
  private static final String REFUSED_AT_MOST = "refused_at_most.";

  private Fields() {}

  static List<Object> of(RunHeader h) {
    BenchDescription b = h.bench();
    return List.of(
        h.planName(),
        h.planYaml(),
        h.settingsYaml(),
        h.build(),
        b.kind(),
        b.serialNumber(),
        b.firmware(),
        b.simulated() ? 1L : 0L,
        b.lockstep() ? 1L : 0L,
        b.periodNs(),
        h.campaignSeed(),
        h.startedAt(),
        h.command());
  }

  static List<Object> of(Condition c) {
    return List.of(
        c.name(),
        c.expectation().name(),
        (long) c.plannedTrials(),
        (long) c.standoffMicrons(),
        (long) c.toleranceMicrons());
  }

  static List<Object> of(Claim c) {
    return List.of(
        c.endpoint().key(),
        (long) c.withinMicrons(),
        c.share(),
        c.confidence(),
        String.join("\n", c.conditions()));
  }

  /** A claim of a version before 4 is about all its conditions together. */
  static Claim claim(
      String endpoint,
      int withinMicrons,
      double share,
      double confidence,
      List<String> conditions,
      Map<String, String> rows) {
    Claim usual =
        new Claim(Claim.Endpoint.ofKey(endpoint), withinMicrons, share, confidence, conditions);
    String refused = rows.get(REFUSED_AT_MOST + endpoint);
    return new Claim(
        usual.endpoint(),
        withinMicrons,
        share,
        confidence,
        conditions,
        rows.containsKey(EACH + endpoint),
        refused == null ? usual.refusedAtMost() : Double.parseDouble(refused));
  }

  /** Protocol, freeze, station and design as texts by key; empty where there is none. */
  static Map<String, String> protocol(RunHeader h) {
    Map<String, String> rows = new LinkedHashMap<>(h.protocol().rows());
    for (Claim c : h.claims()) {
      if (c.each()) {
        rows.put(EACH + c.endpoint().key(), "condition");
      }
      if (c.refusedAtMost() > 0 && c.refusedAtMost() != Claim.REFUSED_AT_MOST) {
        rows.put(REFUSED_AT_MOST + c.endpoint().key(), Double.toString(c.refusedAtMost()));
      }
    }
    if (h.registration().isFrozen()) {
      rows.put(FROZEN, h.registration().sha256());
      rows.put(FROZEN_AT, h.registration().frozenAt());
      if (h.registration().number() > 0) {
        rows.put(LEDGER_RUN, Integer.toString(h.registration().number()));
        rows.put(LEDGER_HEAD, h.registration().ledger());
      }
    }
    if (!h.bench().setup().isEmpty()) {
      rows.put(SETUP, h.bench().setup());
    }
    if (h.design().kept()) {
      rows.put(DESIGN, DesignText.of(h.design()));
    }
    rows.putAll(h.origin().rows());
    return rows;
  }

  static List<Object> of(Deviation d) {
    return List.of(d.what(), d.planned(), d.found());
  }

  static List<@Nullable Object> of(TrialResult result, byte @Nullable [] sha256) {
    List<@Nullable Object> fields = new ArrayList<>();
    TrialColumn.ALL.forEach(column -> fields.add(column.value().apply(result)));
    fields.add(sha256);
    return fields;
  }
}
