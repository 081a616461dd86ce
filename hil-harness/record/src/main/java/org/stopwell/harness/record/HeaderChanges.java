package org.stopwell.harness.record;

import java.util.ArrayList;
import java.util.List;

/** What differs between two runs before their first trial. */
public final class HeaderChanges {
  private HeaderChanges() {}

  /**
   * One difference.
   *
   * @param what what differs, such as {@code build} or {@code settings line}
   * @param before in the baseline, empty when it is new
   * @param after in the run under test, empty when it is gone
   */
  public record Change(String what, String before, String after) {}

  /**
   * Lists the differences; for plan and settings, the lines that only one of the runs has.
   *
   * @param before the baseline
   * @param after the run under test
   * @return the differences, none when the runs were set up alike
   */
  public static List<Change> between(RunHeader before, RunHeader after) {
    List<Change> changes = new ArrayList<>();
    one(changes, "build", before.build(), after.build());
    one(changes, "origin", origin(before), origin(after));
    one(changes, "bench", before.bench().kind(), after.bench().kind());
    one(
        changes,
        "bench serial number",
        before.bench().serialNumber(),
        after.bench().serialNumber());
    one(changes, "bench firmware", before.bench().firmware(), after.bench().firmware());
    lines(
        changes,
        "bench station",
        before.bench().setup().replace(' ', '\n'),
        after.bench().setup().replace(' ', '\n'));
    one(
        changes,
        "simulated",
        Boolean.toString(before.bench().simulated()),
        Boolean.toString(after.bench().simulated()));
    one(
        changes,
        "control period ns",
        Long.toString(before.bench().periodNs()),
        Long.toString(after.bench().periodNs()));
    one(
        changes,
        "campaign seed",
        Long.toString(before.campaignSeed()),
        Long.toString(after.campaignSeed()));
    lines(changes, "plan line", before.planYaml(), after.planYaml());
    lines(changes, "settings line", before.settingsYaml(), after.settingsYaml());
    lines(changes, "weights", weights(before), weights(after));
    return changes;
  }

  private static String origin(RunHeader header) {
    return header.origin().imported()
        ? Origin.NOT_HERE + ", from " + header.origin().table()
        : "measured here";
  }

  private static String weights(RunHeader header) {
    return String.join(
        "\n", header.design().weights().stream().map(Design.Weights::words).toList());
  }

  private static void one(List<Change> changes, String what, String before, String after) {
    if (!before.equals(after)) {
      changes.add(new Change(what, before, after));
    }
  }

  private static void lines(List<Change> changes, String what, String before, String after) {
    List<String> gone = new ArrayList<>(before.lines().map(String::strip).toList());
    List<String> fresh = new ArrayList<>(after.lines().map(String::strip).toList());
    after.lines().map(String::strip).forEach(gone::remove);
    before.lines().map(String::strip).forEach(fresh::remove);
    for (int i = 0; i < Math.max(gone.size(), fresh.size()); i++) {
      changes.add(
          new Change(
              what, i < gone.size() ? gone.get(i) : "", i < fresh.size() ? fresh.get(i) : ""));
    }
  }
}
