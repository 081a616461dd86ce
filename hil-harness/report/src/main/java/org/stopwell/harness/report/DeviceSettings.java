package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.harness.budget.ConstrictionBudget;
import org.stopwell.harness.stats.ClusteredMean;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;

/** The settings of devices against the distances measured at rest. */
final class DeviceSettings {
  private final DeviceTrials trials;

  DeviceSettings(DeviceTrials trials) {
    this.trials = trials;
  }

  /** One device at one setting. */
  private record Setting(
      String device,
      String setting,
      int claimedMicrons,
      List<TrialResult> stops,
      OptionalDouble meanMicrons,
      Optional<Interval> interval) {}

  private List<Setting> all() {
    Map<List<Object>, List<TrialResult>> groups = new LinkedHashMap<>();
    for (Condition c : trials.report.header().conditions()) {
      trials.stops.stream()
          .filter(t -> t.condition().equals(c.name()))
          .forEach(
              t ->
                  groups
                      .computeIfAbsent(
                          List.of(trials.device(t), trials.setting(t), c.standoffMicrons()),
                          k -> new ArrayList<>())
                      .add(t));
    }
    List<Setting> all = new ArrayList<>();
    for (List<TrialResult> own : groups.values()) {
      Collection<Moments> byTooth =
          DeviceTrials.byTooth(own, TrialResult::remainingMicrons).values();
      all.add(
          new Setting(
              trials.device(own.get(0)),
              trials.setting(own.get(0)),
              trials.report.condition(own.get(0)).standoffMicrons(),
              own,
              ClusteredMean.mean(byTooth),
              ClusteredMean.interval(byTooth, DeviceTrials.CONFIDENCE)));
    }
    return all;
  }

  /** Measured beside claimed distance. */
  Content figure() {
    return Html.figure(
        new Figure(
            "",
            List.of(
                SettingChart.draw(
                    all().stream()
                        .map(
                            s ->
                                new SettingChart.Mark(
                                    s.device() + " " + s.setting(),
                                    s.claimedMicrons() / 1e3,
                                    s.meanMicrons().orElse(0) / 1e3,
                                    s.interval()))
                        .toList(),
                    trials.report.label())),
            SettingChart.LEGEND,
            trials.report.nextFigure(),
            "Measured distance at rest of each device at each setting, beside the distance that the"
                + " setting claims. Below the claim the file rests deeper than claimed."));
  }

  /** Claimed and measured distances, to the foramen and to the constriction. */
  Table table() {
    boolean known = trials.stops.stream().anyMatch(t -> t.device().constrictionMicrons() > 0);
    Table table =
        new Table(
                "Table of settings",
                "Setting against measured distance at rest, with the 95 % interval of the mean by"
                    + " teeth"
                    + trials.report.label()
                    + ". Two targets: the foramen, and the constriction where the table states its"
                    + " distance; below 0 the file rests between constriction and foramen."
                    + (known ? constriction() : ""))
            .columns(Table.LEFT, "Device", "Setting")
            .columns(Table.NUMBER, "Claimed", "Measured to the foramen", "Difference", "Teeth");
    if (known) {
      table.columns(Table.NUMBER, "Measured to the constriction", "Teeth with constriction");
    }
    for (Setting s : all()) {
      List<Table.Cell> cells = new ArrayList<>();
      cells.add(Table.Cell.of(s.device()));
      cells.add(Table.Cell.of(s.setting()));
      cells.add(Table.Cell.of(Numbers.plainMillimetres(s.claimedMicrons())));
      cells.add(
          Table.Cell.of(Numbers.millimetres(s.meanMicrons()), Numbers.millimetres(s.interval())));
      cells.add(
          Table.Cell.of(Numbers.signedMillimetres(s.meanMicrons().orElse(0) - s.claimedMicrons())));
      cells.add(Table.Cell.of(Long.toString(DeviceTrials.teeth(s.stops()))));
      if (known) {
        List<TrialResult> own =
            s.stops().stream().filter(t -> t.device().constrictionMicrons() > 0).toList();
        Collection<Moments> byTooth =
            DeviceTrials.byTooth(own, t -> t.remainingMicrons() - t.device().constrictionMicrons())
                .values();
        cells.add(
            own.isEmpty()
                ? Table.Cell.of("–")
                : Table.Cell.of(
                    Numbers.signedMillimetres(ClusteredMean.mean(byTooth)),
                    Numbers.millimetres(ClusteredMean.interval(byTooth, DeviceTrials.CONFIDENCE))));
        cells.add(Table.Cell.of(Long.toString(DeviceTrials.teeth(own))));
      }
      table.row(cells);
    }
    return table;
  }

  /** How well one distance to the constriction is known. */
  private String constriction() {
    int u = trials.report.header().origin().uncertaintyMicrons();
    int place =
        trials.stops.stream().mapToInt(t -> t.device().constrictionBoundMicrons()).max().orElse(0);
    return " U95 of one distance to the constriction: at most "
        + Numbers.plainMillimetres(ConstrictionBudget.expandedMicrons(u, place))
        + ", from "
        + Numbers.plainMillimetres(place)
        + " of its place (greatest of the table) and "
        + (u == 0
            ? "no stated uncertainty of the distance to the foramen."
            : Numbers.plainMillimetres(u) + " of the distance to the foramen.");
  }
}
