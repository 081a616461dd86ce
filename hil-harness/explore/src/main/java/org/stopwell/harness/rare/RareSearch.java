package org.stopwell.harness.rare;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.BooleanSupplier;
import java.util.function.LongConsumer;
import java.util.stream.IntStream;
import org.stopwell.harness.explore.Workers;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.trace.CsvTraceText;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.random.RandomStream;

/** Searches the probability that a file passes the foramen, by repeated subset simulation. */
public final class RareSearch implements AutoCloseable {
  /**
   * Share of the samples that the pilot keeps at a level; within the 0.1 to 0.3 of usual practice.
   */
  private static final double SHARE = 0.25;

  /** Levels before the search gives up: a share of 0.25 each reaches 1e-12. */
  private static final int MOST_LEVELS = 20;

  /** Ways that are kept as traces; assumed. */
  private static final int WAYS = 3;

  private final Plan plan;
  private final String condition;
  private final Work work;
  private final TrialWorld world;
  private final AtomicLong trials = new AtomicLong();
  private final Workers workers;

  /**
   * How much work is done.
   *
   * @param runs independent runs, at least 2
   * @param samples samples of a level, at least 10
   * @param steps Metropolis steps of each sample at each level, at least 1
   * @param jobs trials at the same time
   */
  public record Work(int runs, int samples, int steps, int jobs) {}

  /**
   * A search.
   *
   * @param plan the plan
   * @param condition the condition whose trials count
   * @param work how much work
   * @param periodNs period of the virtual bench, ns
   * @param abandon asked before every step; true ends the search with the runs that are finished
   * @param progress receives the number of trials so far
   */
  public RareSearch(
      Plan plan,
      String condition,
      Work work,
      long periodNs,
      BooleanSupplier abandon,
      LongConsumer progress) {
    this.plan = plan;
    this.condition = condition;
    this.work = work;
    this.world =
        new TrialWorld(
            plan, condition, periodNs, abandon, () -> progress.accept(trials.incrementAndGet()));
    this.workers = new Workers(work.jobs());
  }

  /**
   * Runs the search.
   *
   * @param finished receives the number of runs that are finished, 0 after the pilot
   * @return what was found
   */
  public RareResult search(LongConsumer finished) {
    Splitting<TrialWorld.Walked> splitting =
        new Splitting<>(
            world,
            new Splitting.Choice(
                work.samples(), SHARE, work.steps(), MOST_LEVELS, plan.head().seed()),
            workers::each);
    List<Splitting.Run<TrialWorld.Walked>> runs = new ArrayList<>();
    List<Splitting.Level> levels = List.of();
    boolean complete = true;
    try {
      levels = splitting.levels(world.event());
      finished.accept(0);
      boolean there = levels.get(levels.size() - 1).depth() <= world.event();
      for (int run = 0; there && run < work.runs(); run++) {
        runs.add(splitting.run(run, levels));
        finished.accept(runs.size());
      }
    } catch (Workers.Abandoned e) {
      complete = false;
    }
    return result(levels, runs, complete);
  }

  private RareResult result(
      List<Splitting.Level> levels, List<Splitting.Run<TrialWorld.Walked>> runs, boolean complete) {
    List<TrialWorld.Walked> reached = runs.stream().flatMap(r -> r.reached().stream()).toList();
    Optional<Estimate> estimate =
        runs.size() < 2
            ? Optional.empty()
            : Optional.of(
                Estimate.of(runs.stream().mapToDouble(Splitting.Run::probability).toArray()));
    List<Double> shares =
        IntStream.range(0, levels.size())
            .mapToObj(
                j ->
                    runs.stream()
                        .filter(r -> r.shares().size() > j)
                        .mapToDouble(r -> r.shares().get(j))
                        .average()
                        .orElse(0))
            .toList();
    List<Scene> here = reached.stream().map(n -> world.spec(n).scene()).toList();
    return new RareResult(
        plan.head().name(),
        condition,
        levels.stream().map(Splitting.Level::depth).toList(),
        shares,
        runs.stream().map(Splitting.Run::probability).toList(),
        estimate,
        trials.get(),
        complete,
        here.size() < 2 ? List.of() : Ways.differences(usual(), here),
        here.isEmpty() ? List.of() : ways(reached, here));
  }

  /** As many scenes of the plan as a level has samples. */
  private List<Scene> usual() {
    return IntStream.range(0, work.samples())
        .mapToObj(i -> world.scene(RandomStream.of(plan.head().seed(), "usual trial " + i)))
        .toList();
  }

  private List<RareResult.Way> ways(List<TrialWorld.Walked> reached, List<Scene> scenes) {
    List<RareResult.Way> ways = new ArrayList<>();
    for (int i : Ways.typical(scenes, WAYS)) {
      Scene scene = scenes.get(i);
      int length = scene.section("canal").getInt(CanalSection.LENGTH);
      ways.add(
          new RareResult.Way(
              reached.get(i).deepestMicrons(),
              scene,
              CsvTraceText.of(world.trace(reached.get(i)), length).text()));
    }
    return ways;
  }

  @Override
  public void close() {
    workers.close();
  }
}
