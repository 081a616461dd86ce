package org.stopwell.harness.record;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.stats.Claim;
import org.stopwell.harness.stats.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.BenchDescription;

/** The fields of each kind of entry, in the order of its table and of the hash chain. */
final class Fields {
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

  static List<@Nullable Object> of(TrialResult result, byte @Nullable [] sha256) {
    List<@Nullable Object> fields = new ArrayList<>();
    TrialColumn.ALL.forEach(column -> fields.add(column.value().apply(result)));
    fields.add(sha256);
    return fields;
  }
}
