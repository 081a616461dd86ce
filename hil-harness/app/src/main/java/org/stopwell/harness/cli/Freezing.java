package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.plan.Canonical;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Station;
import org.stopwell.harness.protocol.Freeze;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.standing.RecordItems;

/** Freezes a plan, and holds a run against the freeze. */
final class Freezing {
  private final Path file;
  private final SortedMap<String, String> items;

  /**
   * A plan as it is now.
   *
   * @param bench the bench at hand and what is on record of it; empty away from it
   */
  Freezing(Path planFile, Plan plan, BenchOptions benches, Map<String, String> bench)
      throws Exception {
    this.file = Freeze.fileOf(planFile);
    this.items = Canonical.of(plan, station(benches.station));
    items.put("bench", benches.word());
    items.put("build", Build.identity());
    items.putAll(bench);
  }

  private static @Nullable Station station(@Nullable Path file) throws Exception {
    return file == null ? null : Station.read(Source.of(file));
  }

  /**
   * Writes the freeze file; an equal one that is there is good enough, another one is not; says
   * which.
   */
  String freeze() throws Exception {
    if (Files.exists(file)) {
      Registration there = found();
      if (!there.deviations().isEmpty()) {
        throw new UsageException(
            file
                + ": frozen on "
                + there.frozenAt()
                + " with "
                + count(there)
                + "; without --freeze the plan runs and its report lists them; a new revision needs"
                + " a new name");
      }
      return "frozen since " + there.frozenAt() + " as " + there.sha256() + " in " + file;
    }
    Freeze freeze = new Freeze(Clock.now(), items);
    freeze.write(file);
    return "frozen as " + freeze.sha256() + " in " + file;
  }

  /** The freeze that the plan is under, with every deviation, said on the screen. */
  Registration registration(PrintWriter err) throws Exception {
    if (!Files.exists(file)) {
      return Registration.NONE;
    }
    Registration found = found();
    if (!found.deviations().isEmpty()) {
      err.println(
          "stopwell: this is not the plan as it was frozen on "
              + found.frozenAt()
              + ": "
              + count(found)
              + ", which the report will list");
      found.deviations().forEach(d -> err.println("  " + d.sentence()));
    }
    return found;
  }

  /** A plan that was frozen away from its bench says nothing of that bench. */
  private Registration found() throws Exception {
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
