package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * What fluid that is not flat changes in the readings: trials of the shipped plan, as a table of
 * {@code docs/fluid.md}. {@code -Dstopwell.write=true} runs every trial and writes them and the
 * table anew; the test repeats the first of them.
 */
class FluidStudyTest {
  private static final long PERIOD_NS = 1_000_000;

  /** Trials of each condition that the test repeats. */
  private static final int REPEATED = 1;

  private static final String BEGIN = "<!-- generated: fluid study -->\n";
  private static final String END = "<!-- end: fluid study -->";

  private static final Path TRIALS =
      TestPlans.root()
          .resolve(
              "hil-harness/trial/src/test/resources/org/stopwell/harness/trial/fluid-study.txt");

  /** The trials of each condition in a line: stop error, error of the reading and past, or "-". */
  private static Map<String, List<String>> run(Plan plan, int trials) {
    VirtualBench bench = new VirtualBench(PERIOD_NS);
    bench.open();
    Map<String, List<String>> lines = new LinkedHashMap<>();
    plan.plannedConditions().forEach(c -> lines.put(c.name(), new ArrayList<>()));
    for (int i = 0; i < trials; i++) {
      TrialSpec spec = plan.trial(i);
      TrialResult result =
          new TrialRunner(bench, plan.controller(spec))
              .run(spec, null, () -> Pace.lockstep(PERIOD_NS), () -> false)
              .orElseThrow();
      ErrorChain chain = result.chain();
      String errors =
          result.stopErrorMicrons() + ":" + (-chain.senseMicrons() - chain.filterMicrons());
      Objects.requireNonNull(lines.get(spec.condition()))
          .add((result.stopped() ? errors : "-") + (result.deepestMicrons() < 0 ? ":past" : ""));
    }
    return lines;
  }

  /** How many stopped, the median and the middle half of both errors, and how many past. */
  private static String row(String name, List<String> trials) {
    List<String[]> stopped =
        trials.stream()
            .filter(t -> !t.equals("-") && !t.equals("-:past"))
            .map(t -> t.split(":", -1))
            .toList();
    long within = stopped.stream().filter(t -> Math.abs(Integer.parseInt(t[0])) <= 500).count();
    return String.format(
        Locale.ROOT,
        "| %s | %d of %d | %d | %d | %s | %s |\n",
        name,
        stopped.size(),
        trials.size(),
        within,
        trials.stream().filter(t -> t.endsWith(":past")).count(),
        middle(stopped, 0),
        middle(stopped, 1));
  }

  private static String middle(List<String[]> trials, int column) {
    if (trials.isEmpty()) {
      return "–";
    }
    List<Integer> sorted = trials.stream().map(t -> Integer.valueOf(t[column])).sorted().toList();
    int last = sorted.size() - 1;
    double median = 0.5 * (sorted.get(last / 2) + sorted.get((last + 1) / 2));
    return String.format(
        Locale.ROOT,
        "%+.2f (%+.2f to %+.2f)",
        median * 1e-3,
        sorted.get(last / 4) * 1e-3,
        sorted.get(last - last / 4) * 1e-3);
  }

  @Test
  void thePageHoldsWhatTheTrialsCameTo() throws Exception {
    Plan plan = Plan.read(Source.of(TestPlans.file("fluid")));
    int conditions = plan.plannedConditions().size();
    boolean writes = Boolean.getBoolean("stopwell.write");
    Map<String, List<String>> now =
        run(plan, (writes ? plan.trials() / conditions : REPEATED) * conditions);
    if (writes) {
      Files.createDirectories(Objects.requireNonNull(TRIALS.getParent()));
      List<String> lines = new ArrayList<>();
      now.forEach((name, trials) -> lines.add(name + "|" + String.join(" ", trials)));
      Files.write(TRIALS, lines);
    }
    StringBuilder table = new StringBuilder();
    table.append("| fluid, reading | stops | within 0.5 mm | past the foramen | stop error, mm");
    table.append(" | error of the reading, mm |\n|---|---|---|---|---|---|\n");
    List<String> held = Files.readAllLines(TRIALS);
    assertEquals(conditions, held.size());
    for (String line : held) {
      String name = line.substring(0, line.indexOf('|'));
      List<String> trials = List.of(line.substring(name.length() + 1).split(" ", -1));
      List<String> repeated = Objects.requireNonNull(now.get(name), name);
      assertEquals(trials.subList(0, repeated.size()), repeated, name);
      table.append(row(name, trials));
    }
    Path page = TestPlans.root().resolve("docs/fluid.md");
    String text = Files.readString(page);
    int from = text.indexOf(BEGIN) + BEGIN.length();
    int to = text.indexOf(END);
    assertTrue(from >= BEGIN.length() && to >= from, "the page has lost its mark");
    String made = text.substring(0, from) + table + text.substring(to);
    if (writes) {
      Files.writeString(page, made);
    } else {
      assertEquals(made, text);
    }
  }
}
