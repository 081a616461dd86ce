package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.explore.BrokenPolicyException;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.EngineException;
import org.stopwell.harness.explore.ExploreFiles;
import org.stopwell.harness.explore.ExploreResult;
import org.stopwell.harness.explore.ExploreSummary;
import org.stopwell.harness.explore.ExploreWork;
import org.stopwell.harness.explore.Finished;
import org.stopwell.harness.explore.KeptShards;
import org.stopwell.harness.explore.Rates;
import org.stopwell.harness.explore.RowSink;
import org.stopwell.harness.explore.SpaceException;
import org.stopwell.harness.explore.TrialTable;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.report.ExploreLines;
import org.stopwell.harness.report.ExplorePage;
import org.stopwell.harness.trial.Outcome;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Explores what decides an outcome over a space of canals and settings. */
@Command(
    name = "explore",
    description = {
      "Runs trials over a space of canals, fluids, hands and settings on the virtual bench, and shows"
          + " which factors decide an outcome. The answer has sensitivity indices (design sobol) or a"
          + " screening (morris), a fitted surface, the Pareto front of settings, and the worst trials.",
      "",
      "Every number is simulated. Give the same command again to continue after an interruption.",
      "",
      Outcome.EARLY
    },
    footer = {
      Questions.HELP,
      "",
      "Exit codes: 0 the answer is complete; 1 an own policy failed; 2 the space is wrong, or the cluster"
          + " is not there or of another build; 5 the outcome cannot be estimated, or the work was"
          + " interrupted.",
      "",
      "Examples:",
      "  stopwell explore docs/spaces/ratio-stop-error.yaml",
      "  stopwell explore SPACE --trials 100000 --out explorations/long",
      "  stopwell explore SPACE --on spark --master spark://node1:7077",
      "",
      "In the output directory: explore.html (the page), explore.json, factors.csv, surface.csv,"
          + " points.csv, trials.npy and trials.csv (every trial; on Spark trials.parquet too),"
          + " worst/*.yaml (plans of the worst trials)."
    },
    mixinStandardHelpOptions = true)
final class ExploreCommand extends StopwellCommand {
  private static final Path EXPLORATIONS = Path.of("explorations");

  /** Name of the table that the workers of a cluster write. */
  private static final String PARQUET = "trials.parquet";

  /** A table of all trials is written up to this number unless it is asked for. */
  private static final long TABLE_UP_TO = 1_000_000;

  @Parameters(paramLabel = "SPACE", description = "The space, a YAML file.")
  Path file = Path.of("");

  @Option(
      names = "--trials",
      paramLabel = "N",
      description = "Trials at most. Default: as in the space.")
  @Nullable Long trials;

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of the exploration. Default: as in the space.")
  @Nullable Long seed;

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description = "Output directory. Default: explorations/ and the name of the space.")
  @Nullable Path directory;

  @Option(
      names = "--table",
      negatable = true,
      description =
          "Write every trial to trials.npy and trials.csv. Default: up to 1000000 trials.")
  @Nullable Boolean table;

  @Option(
      names = "--parquet",
      negatable = true,
      description =
          "Let the workers of a cluster write every trial to trials.parquet, in an output directory"
              + " that they share. Default: with --on spark, where trials.npy is written.")
  @Nullable Boolean parquet;

  @Mixin JobsOption jobs = new JobsOption();

  @Mixin EngineOptions on = new EngineOptions();

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    Space read = Space.read(Source.of(file), extensions().policies());
    Range.check("--trials", trials, 1, 1_000_000_000_000L);
    if (seed != null && seed < 0) {
      throw new UsageException("--seed " + seed + " is below 0");
    }
    Space space =
        read.with(
            seed == null ? read.head().seed() : seed,
            trials == null ? read.head().trials() : trials);
    ExploreWork work;
    try {
      work = ExploreWork.of(space, Build.identity(), BenchOptions.PERIOD_NS, extensions().own());
    } catch (SpaceException e) {
      throw new UsageException(file + ": " + e.getMessage());
    }
    Path place = directory == null ? EXPLORATIONS.resolve(space.head().name()) : directory;
    try (Engine engine =
        on.engine(new BenchOptions().jobs(jobs.asked), extensions(), parquetWanted(work, place))) {
      KeptShards<ExploreSummary> kept = kept(place, work);
      Finished<ExploreSummary> before = before(kept, work);
      Interruption.watch();
      Finished<ExploreSummary> finished = run(work, place, kept, before, engine);
      return answer(work, place, finished);
    }
  }

  /** Where the workers of a cluster write every trial. */
  private Optional<Path> parquetWanted(ExploreWork work, Path place) throws UsageException {
    if (on.inThisProgram()) {
      if (parquet != null && parquet) {
        throw new UsageException(
            "--parquet needs --on spark; without it, trials.npy has every trial");
      }
      return Optional.empty();
    }
    boolean wanted = parquet == null ? tableWanted(work) : parquet;
    return wanted ? Optional.of(place.resolve(PARQUET)) : Optional.empty();
  }

  private static KeptShards<ExploreSummary> kept(Path place, ExploreWork work)
      throws UsageException {
    try {
      return new KeptShards<>(Files.createDirectories(place), work);
    } catch (IOException e) {
      throw new UsageException("--out " + place + ": the directory cannot be made");
    }
  }

  private static Finished<ExploreSummary> before(KeptShards<ExploreSummary> kept, ExploreWork work)
      throws UsageException {
    try {
      return kept.read().orElseGet(() -> Finished.none(work));
    } catch (IOException e) {
      throw new UsageException(String.valueOf(e.getMessage()));
    }
  }

  private Finished<ExploreSummary> run(
      ExploreWork work,
      Path place,
      KeptShards<ExploreSummary> kept,
      Finished<ExploreSummary> before,
      Engine engine)
      throws IOException, UsageException {
    long done = before.units().size() * work.unitTrials();
    if (done == work.trials()) {
      return before;
    }
    if (done > 0 && tableWanted(work) && !Files.exists(place.resolve(TrialTable.NUMPY))) {
      throw new UsageException(
          place.resolve(TrialTable.NUMPY)
              + " is missing, and "
              + done
              + " trials are finished; add --no-table, or remove "
              + place.resolve(KeptShards.NAME)
              + " to begin again");
    }
    Rates rates = new Rates(work.trials() - done);
    try (Progress progress = Progress.of("trials", work.trials(), done);
        TrialTable rows = tableWanted(work) ? new TrialTable(work, place) : null) {
      Engine.Watcher watcher =
          new Engine.Watcher() {
            @Override
            public void finished(int worker, long more, long busyNs) {
              rates.finished(worker, more, busyNs);
              progress.add(more);
              progress.tell(rates.perWorker());
            }

            @Override
            public void waiting(String why) {
              progress.say(why, err());
            }
          };
      Finished<ExploreSummary> finished;
      try {
        finished =
            engine.run(
                work,
                before,
                rows == null ? RowSink.NOWHERE : rows,
                kept::keep,
                watcher,
                Interruption::requested);
      } catch (EngineException | BrokenPolicyException | IllegalStateException e) {
        kept.writeNewest();
        throw e;
      }
      kept.write(finished);
      if (rows != null && finished.units().size() == work.units()) {
        rows.copyToCsv();
      }
      err()
          .println(
              String.format(
                  Locale.ROOT,
                  "stopwell: %d trials, %.1f trials/s; %s",
                  (finished.units().size() - before.units().size()) * work.unitTrials(),
                  rates.together(),
                  rates.perWorker()));
      return finished;
    } catch (UncheckedIOException e) {
      throw e.getCause();
    }
  }

  private boolean tableWanted(ExploreWork work) {
    return table == null ? work.trials() <= TABLE_UP_TO : table;
  }

  private int answer(ExploreWork work, Path place, Finished<ExploreSummary> finished)
      throws IOException {
    ExploreResult result = ExploreResult.of(work, finished);
    ExploreFiles files = new ExploreFiles(work, place);
    List<String> commands = new ArrayList<>();
    for (Path plan : files.worst(result)) {
      List<String> words = new ArrayList<>(List.of("stopwell", "run", plan.toString()));
      words.addAll(extensions().words());
      commands.add(String.join(" ", words));
    }
    files.tables(result);
    Map<String, Object> values = new LinkedHashMap<>(result.values());
    values.put("worst_commands", commands);
    Files.writeString(
        place.resolve("explore.json"), Json.text(values) + "\n", StandardCharsets.UTF_8);
    Files.writeString(
        place.resolve("explore.html"), ExplorePage.html(result, commands), StandardCharsets.UTF_8);
    boolean complete = finished.units().size() == work.units();
    json.print(
        out(),
        values,
        out -> {
          ExploreLines.print(result, commands, out);
          out.accept("Page: " + place.resolve("explore.html"));
        });
    if (!complete) {
      err()
          .println(
              "stopwell: interrupted; "
                  + result.counts().trials()
                  + " of "
                  + work.trials()
                  + " trials are kept in "
                  + place
                  + "; give the same command to continue");
    }
    return complete && result.problems().isEmpty() ? 0 : Verdict.UNDECIDED.exitCode();
  }
}
