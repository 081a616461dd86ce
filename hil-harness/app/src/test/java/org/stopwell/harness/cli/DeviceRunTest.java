package org.stopwell.harness.cli;

import static java.util.stream.Collectors.counting;
import static java.util.stream.Collectors.groupingBy;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.HostileRun;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;

/** A device with a motor of its own goes through the same commands as the controller. */
class DeviceRunTest {
  private static final Path PLAN = TestPlans.file("device-twin");

  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @Test
  void aDeviceIsRunReportedVerifiedAndReplayedFromItsSamples(@TempDir Path dir) throws Exception {
    String run = dir.resolve("run").toString();
    int code = stopwell("run", PLAN.toString(), "--trials", "2", "--out", run);
    assertTrue(code == 0 || code == 1 || code == 5, code + " " + err);

    String report = Files.readString(Path.of(run, "report.html"));
    assertTrue(report.contains("stood still"), "the report states what the device did");
    assertTrue(report.contains("Overshoot per feed"), "the report fits the trip over the feed");
    assertTrue(report.contains("twin-coast.u1"), "the report names devices by their codes");
    assertEquals(0, stopwell("verify", run), err.toString());
    assertEquals(code, stopwell("report", run), err.toString());
    assertEquals(report, Files.readString(Path.of(run, "report.html")), "the same report again");
    assertEquals(0, stopwell("replay", run), err + " " + out);
    assertTrue(
        out.toString()
            .contains("12 trials of devices computed again from the samples: 12 equal in recovery"),
        out.toString());
    assertEquals(0, stopwell("replay", run, "--trial", "3"), err.toString());
    assertTrue(out.toString().contains("1 trial of devices computed again"), out.toString());
    assertEquals(2, stopwell("replay", run, "--page", dir + "/p.html", "--trial", "1"));
    assertTrue(err.toString().contains("a device was watched"), err.toString());
    samplesAreSmall(Path.of(run));
    aResultThatDoesNotFollowFromItsSamplesIsNamed(Path.of(run), dir);
  }

  @Test
  void whatIsNeededAndWhatItCanShowIsStatedBeforeATrial(@TempDir Path dir) throws Exception {
    assertEquals(0, stopwell("check", PLAN.toString()), err.toString());
    assertTrue(out.toString().contains("devices under test: twin-brake, unit u1"), out.toString());
    assertTrue(out.toString().contains("must watch a device"), out.toString());

    String text =
        Files.readString(PLAN)
            .replace("../settings/", TestPlans.root().resolve("docs/settings") + "/");
    Path other = dir.resolve("other.yaml");
    Files.writeString(other, text.replace("twin-coast", "m17"));
    assertEquals(2, stopwell("run", other.toString(), "--out", dir.resolve("r").toString()));
    assertTrue(err.toString().contains("m17 is no simulated device"), err.toString());

    Files.writeString(
        other, text.replace("canal: {length_mm: 13}", "canal: {kind: resistors, length_mm: 13}"));
    assertEquals(2, stopwell("check", other.toString()));
    assertTrue(
        err.toString().contains("claims.over_travel: has no meaning for a device on a network"),
        err.toString());
  }

  /** Two units on the same three canals, twice each: r and R of the units, by teeth. */
  @Test
  void unitsOnTheSameTeethHaveRepeatabilityAndReproducibility(@TempDir Path dir) throws Exception {
    Path plan = dir.resolve("units.yaml");
    Files.writeString(
        plan,
        """
        plan: 1
        name: units
        settings: %s
        stage: length
        seed: 3
        trials: 6
        canal_trials: 2
        tolerance_mm: 0.5
        controller: external
        device: {model: twin-coast, unit: u1, operator: op-1, setting: s5, standoff_mm: 0.5}
        scene:
          canal: {length_mm: 13}
          hand: {motion: stage, passive_mm: 9, feed_mm_per_s: 1}
        vary:
          canal: {foramen_diameter_mm: {from: 0.45, to: 0.55}}
        factors:
          unit:
            first:
            second:
              device: {unit: u2}
        claims:
          over_travel: {share: 0.9, confidence: 0.95}
        """
            .formatted(TestPlans.root().resolve("docs/settings/reference-canal.yaml")));
    Path run = dir.resolve("run");
    int code = stopwell("run", plan.toString(), "--out", run.toString());
    assertTrue(code == 0 || code == 1 || code == 5, code + " " + err);
    try (RunFile file = RunFile.load(run)) {
      assertEquals(
          Map.of("canal-1", 4L, "canal-2", 4L, "canal-3", 4L),
          file.results().stream().collect(groupingBy(t -> t.device().tooth(), counting())));
      assertEquals(
          List.of("twin-coast.u1", "twin-coast.u2"),
          file.results().stream().map(t -> t.device().unit()).distinct().sorted().toList());
    }
    String page = Files.readString(run.resolve("report.html"));
    assertTrue(page.contains("Devices, units and operators"), "the section of devices");
    String row = page.replaceAll("(?s).*id=\"device-section\"", "");
    assertTrue(row.contains("3 teeth at one setting"), row);
    assertTrue(row.contains("6 within, 3 between"), row);
    assertEquals(0, stopwell("verify", run.toString()), err.toString());
    assertEquals(code, stopwell("report", run.toString()), err.toString());
    assertEquals(page, Files.readString(run.resolve("report.html")), "the same report again");
  }

  @Test
  void whatRunsTheControllerRefusesAPlanOfADevice(@TempDir Path dir) throws Exception {
    for (String command : List.of("rare", "detect", "break", "length")) {
      err.getBuffer().setLength(0);
      assertEquals(2, stopwell(command, PLAN.toString()), command + err);
      assertTrue(
          err.toString().contains("controller: external; " + command + " needs controller: own"),
          command + err);
    }
    Path space = dir.resolve("space.yaml");
    Files.writeString(
        space,
        """
        space: 1
        name: device
        plan: %s
        condition: brake/slow
        outcome: over_travel
        design: random
        trials: 20
        factors:
          scene.canal.foramen_diameter_mm: {from: 0.4, to: 0.6}
        """
            .formatted(PLAN));
    for (String command : List.of("explore", "tune")) {
      err.getBuffer().setLength(0);
      String place = dir.resolve("out").toString();
      assertEquals(2, stopwell(command, space.toString(), "--out", place), command + err);
      assertTrue(err.toString().contains("a space needs controller: own"), command + err);
    }
  }

  /** What is kept of a trial is a few bytes a sample. */
  private static void samplesAreSmall(Path run) throws Exception {
    try (RunFile file = RunFile.load(run)) {
      long samples = file.results().stream().mapToLong(t -> t.steps()).sum();
      double each = (double) Files.size(run.resolve(RunFile.NAME)) / samples;
      assertTrue(each < 6, each + " bytes of the run file a sample, " + samples + " samples");
    }
  }

  /** Somebody who can write a run file anew still cannot make samples say something else. */
  private void aResultThatDoesNotFollowFromItsSamplesIsNamed(Path run, Path dir) throws Exception {
    Path other = Files.createDirectory(dir.resolve("other"));
    Files.copy(run.resolve(RunFile.NAME), other.resolve(RunFile.NAME));
    HostileRun.change(
        other, "UPDATE trial SET act_um = act_um + 30, verdict = 'PASS' WHERE trial = 1");
    assertEquals(0, stopwell("verify", other.toString()), err.toString());
    out.getBuffer().setLength(0);
    assertEquals(1, stopwell("replay", other.toString()), err.toString());
    assertTrue(out.toString().contains("12 trials of devices"), out.toString());
    assertTrue(out.toString().contains("11 equal"), out.toString());
    assertTrue(out.toString().contains("trial 2, "), out.toString());
    assertTrue(out.toString().contains("act_um recorded"), out.toString());
    assertEquals(1, stopwell("replay", other.toString(), "--json"), err.toString());
    assertTrue(out.toString().contains("\"column\""), out.toString());
  }

  private int stopwell(String... args) {
    return Main.run(args, new PrintWriter(out, true), new PrintWriter(err, true));
  }
}
