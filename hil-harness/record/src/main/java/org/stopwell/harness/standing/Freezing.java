package org.stopwell.harness.standing;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.plan.Canonical;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Station;
import org.stopwell.harness.plan.StopPlan;
import org.stopwell.harness.protocol.Freeze;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.rig.time.Utc;

/** Freezes a plan, and compares a run with the frozen plan. */
public final class Freezing {
  private final Path file;
  private final SortedMap<String, String> items;

  /**
   * The plan in its present state.
   *
   * @param planFile its file
   * @param plan the plan
   * @param station where it runs; null without a station file
   * @param kind kind of bench
   * @param build which build this is
   * @param bench the bench at hand and what is on record of it; empty away from it
   */
  public Freezing(
      Path planFile,
      Plan plan,
      @Nullable Station station,
      String kind,
      String build,
      Map<String, String> bench) {
    this.file = Freeze.fileOf(planFile);
    this.items = Canonical.of(plan, station);
    items.put("bench", kind);
    items.put("build", build);
    items.putAll(bench);
  }

  /**
   * The plan of stops that are measured elsewhere, in its present state.
   *
   * @param planFile its file
   * @param plan the plan
   * @param build which build this is
   */
  public Freezing(Path planFile, StopPlan plan, String build) {
    this.file = Freeze.fileOf(planFile);
    this.items = Canonical.of(plan);
    items.put("build", build);
  }

  /**
   * Writes the freeze file. An equal one that is there is good enough, another one is not.
   *
   * @return which of both, with hash and file
   * @throws IOException when another one is there, or the disk refuses
   */
  public String freeze() throws IOException {
    if (Files.exists(file)) {
      Registration there = found();
      if (!there.deviations().isEmpty()) {
        throw new Freeze.FreezeException(
            file,
            "frozen on "
                + there.frozenAt()
                + " with "
                + count(there)
                + "; run it without --freeze to list them in the report, or save the new"
                + " revision under a new name");
      }
      return "frozen since " + there.frozenAt() + " as " + there.sha256() + " in " + file;
    }
    Freeze freeze = new Freeze(Utc.now(), items);
    freeze.write(file);
    return "frozen as " + freeze.sha256() + " in " + file;
  }

  /**
   * The freeze that the plan is under.
   *
   * @return every deviation from it; {@link Registration#NONE} for a plan that is not frozen
   * @throws IOException when the freeze file cannot be read
   */
  public Registration registration() throws IOException {
    return Files.exists(file) ? found() : Registration.NONE;
  }

  /**
   * What a plan that is no longer as frozen says on the screen.
   *
   * @param found the freeze and its deviations
   * @return no line without a deviation
   */
  public static List<String> warning(Registration found) {
    if (found.deviations().isEmpty()) {
      return List.of();
    }
    List<String> lines = new ArrayList<>();
    lines.add(
        "stopwell: the plan differs from the plan frozen on "
            + found.frozenAt()
            + ": "
            + count(found)
            + ", listed in the report");
    found.deviations().forEach(d -> lines.add("  " + d.sentence()));
    return lines;
  }

  /** A plan frozen away from its bench holds no items of the bench. */
  private Registration found() throws IOException {
    Freeze freeze = Freeze.read(file);
    Map<String, String> now = new TreeMap<>(items);
    if (freeze.items().keySet().stream().noneMatch(RecordItems::isOne)) {
      now.keySet().removeIf(RecordItems::isOne);
    }
    return freeze.against(now);
  }

  private static String count(Registration registration) {
    int n = registration.deviations().size();
    return n + (n == 1 ? " deviation" : " deviations");
  }
}
