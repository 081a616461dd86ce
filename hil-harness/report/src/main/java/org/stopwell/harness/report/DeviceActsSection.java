package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.harness.external.OvershootFit;
import org.stopwell.harness.trial.DeviceActs;
import org.stopwell.harness.trial.TrialResult;

/** What devices with a motor of their own did: trip, time to standstill, overshoot per feed. */
final class DeviceActsSection {
  /** The code of a trial on a network of resistors. */
  private static final String ON_NETWORK = "ACTED";

  private DeviceActsSection() {}

  static Optional<Content> of(Report report) {
    List<TrialResult> acted =
        report.trials().stream().filter(t -> t.device().acts().acted()).toList();
    if (acted.isEmpty() || report.coded()) {
      return Optional.empty();
    }
    boolean network = acted.stream().anyMatch(t -> t.code().equals(ON_NETWORK));
    List<Content> parts = new ArrayList<>();
    parts.add(
        Html.paragraph(
            "No controller of this program ran. The bench watched rotation and position of the file;"
                + " every number follows from these two. The trip is the place where the device"
                + " stopped or turned back. Its uncertainty (95 %) is that of the shank scale and of"
                + " the time."));
    if (network) {
      parts.add(
          Html.caution(
              "On a network of resistors only static trip, repeatability, hysteresis and overshoot"
                  + " per feed have a meaning. A network has no foramen: absolute errors need teeth."));
    }
    parts.add(Html.table(acts(report, acted, network)));
    Map<String, List<OvershootFit.Point>> devices = new LinkedHashMap<>();
    for (TrialResult t : acted) {
      DeviceActs a = t.device().acts();
      devices
          .computeIfAbsent(t.device().unit(), d -> new ArrayList<>())
          .add(new OvershootFit.Point(a.feedMicronsPerSecond(), a.actMicrons()));
    }
    devices.values().removeIf(points -> !OvershootFit.fits(points));
    if (!devices.isEmpty()) {
      parts.add(Html.table(fits(report, devices)));
    }
    return Html.section("acts-section", "What the devices did", parts.toArray(Content[]::new));
  }

  private static Table acts(Report report, List<TrialResult> acted, boolean network) {
    Table table =
        new Table(
                "Acts by condition"
                    + report.label()
                    + ". Mean and standard deviation over the trials in which the device acted.")
            .columns(Table.LEFT, "Condition")
            .columns(
                Table.NUMBER,
                "Trials",
                network ? "Trip, repeatability" : "Trip",
                "Trip to standstill",
                "Angle",
                "Hysteresis");
    Map<String, List<DeviceActs>> conditions = new LinkedHashMap<>();
    report
        .summary()
        .conditions()
        .forEach(c -> conditions.put(c.condition().name(), new ArrayList<>()));
    for (TrialResult t : acted) {
      conditions.computeIfAbsent(t.condition(), c -> new ArrayList<>()).add(t.device().acts());
    }
    conditions.forEach(
        (condition, all) -> {
          List<DeviceActs> again = all.stream().filter(a -> a.restartMicrons() != 0).toList();
          table.row(
              condition,
              Integer.toString(all.size()),
              spread(all.stream().mapToDouble(a -> a.actMicrons() / 1e3).toArray(), 3, "mm"),
              spread(all.stream().mapToDouble(a -> a.stillMicros() / 1e3).toArray(), 1, "ms"),
              spread(all.stream().mapToDouble(a -> a.stillMilliDegrees() / 1e3).toArray(), 1, "°"),
              spread(
                  again.stream()
                      .mapToDouble(a -> (a.restartMicrons() - a.actMicrons()) / 1e3)
                      .toArray(),
                  3,
                  "mm"));
        });
    return table;
  }

  private static Table fits(Report report, Map<String, List<OvershootFit.Point>> devices) {
    Table table =
        new Table(
                "Overshoot per feed"
                    + report.label()
                    + ". Straight line of the trip over the feed by least squares, with 95 % intervals;"
                    + " 1 mm per mm/s is 1 s.")
            .columns(Table.LEFT, "Device")
            .columns(
                Table.NUMBER, "Trials", "Static trip", "Overshoot per feed", "SD about the line");
    devices.forEach(
        (device, points) -> {
          OvershootFit fit = OvershootFit.of(points);
          table.row(
              device,
              Integer.toString(fit.trials()),
              Words.decimals(3, fit.staticMicrons() / 1e3)
                  + " ± "
                  + Words.decimals(3, fit.staticBoundMicrons() / 1e3)
                  + " mm",
              Words.decimals(4, fit.overshootMs() / 1e3)
                  + " ± "
                  + Words.decimals(4, fit.overshootBoundMs() / 1e3)
                  + " mm per mm/s",
              Words.decimals(3, fit.residualMicrons() / 1e3) + " mm");
        });
    return table;
  }

  private static String spread(double[] values, int decimals, String unit) {
    if (values.length == 0) {
      return "–";
    }
    double mean = 0;
    for (double v : values) {
      mean += v / values.length;
    }
    double squares = 0;
    for (double v : values) {
      squares += (v - mean) * (v - mean);
    }
    String sd =
        values.length < 2
            ? ""
            : " ± " + Words.decimals(decimals, Math.sqrt(squares / (values.length - 1)));
    return Words.decimals(decimals, mean) + sd + " " + unit;
  }
}
