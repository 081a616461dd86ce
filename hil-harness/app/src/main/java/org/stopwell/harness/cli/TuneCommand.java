package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.Rates;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.report.TuneLines;
import org.stopwell.harness.report.TunePage;
import org.stopwell.harness.trial.Outcome;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.tune.TuneFiles;
import org.stopwell.harness.tune.TuneResult;
import org.stopwell.harness.tune.TuneRun;
import org.stopwell.harness.tune.TuneState;
import org.stopwell.harness.tune.Tuning;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Tunes settings of a policy against a target. */
@Command(
    name = "tune",
    description = {
      "Tunes settings of the controller against a target on the virtual bench, such as over-travel"
          + " below 0.5 %% with the fewest early stops. The space names the settings to tune (factors"
          + " settings.…), what varies from canal to canal (all other factors), and the target.",
      "",
      "Every point of the search runs in the same canals. The judgement compares old, tuned and"
          + " neighbouring settings in fresh canals. Every number is simulated. Give the same"
          + " command again to continue after an interruption.",
      "",
      Outcome.EARLY,
      "",
      "Exit codes: 0 the fresh canals confirm the target; 1 they refute it; 5 they do not decide, or"
          + " the work was interrupted; 2 the space is wrong, or the cluster is not there or of another build."
    },
    footer = {
      Questions.HELP,
      "",
      "In the space:",
      "  repeats: 200                                   canals of each point of the search",
      "  trials: 8000                                   trials of the search, so 40 points",
      "  factors:",
      "    settings.sense.caution_errors: {from: 0, to: 1.5}",
      "    scene.canal.tissue_ohm_m: {from: 1.5, to: 6.2, log: true}",
      "  target:",
      "    over_travel: {at_most: 0.05}",
      "    minimise: early_stop",
      "    fresh_canals: 2000",
      "",
      "Examples:",
      "  stopwell tune docs/spaces/caution.yaml",
      "  stopwell tune SPACE --trials 50000 --fresh 20000 --out tunings/long",
      "  stopwell tune SPACE --on spark --master spark://node1:7077",
      "  stopwell run PLAN                              with settings: tunings/NAME/tuned.yaml",
      "",
      "In the output directory: tuned.yaml (a complete settings file), tune.html (the page),"
          + " tune.json, points.csv (every point tried), judged.csv."
    },
    mixinStandardHelpOptions = true)
final class TuneCommand extends StopwellCommand {
  private static final Path TUNINGS = Path.of("tunings");

  @Parameters(paramLabel = "SPACE", description = "The space, a YAML file with a target.")
  Path file = Path.of("");

  @Option(
      names = "--trials",
      paramLabel = "N",
      description = "Trials of the search at most. Default: as in the space.")
  @Nullable Long trials;

  @Option(
      names = "--fresh",
      paramLabel = "N",
      description = "Canals of the judgement. Default: as in the target.")
  @Nullable Integer fresh;

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of search and canals. Default: as in the space.")
  @Nullable Long seed;

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description = "Output directory. Default: tunings/ and the name of the space.")
  @Nullable Path directory;

  @Mixin JobsOption jobs = new JobsOption();

  @Mixin EngineOptions on = new EngineOptions();

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    Tuning tuning =
        Tuning.of(space(), Build.identity(), BenchOptions.PERIOD_NS, extensions().own());
    Path place = directory == null ? TUNINGS.resolve(tuning.space().head().name()) : directory;
    try (Engine engine =
        on.engine(new BenchOptions().jobs(jobs.asked), extensions(), Optional.empty())) {
      TuneState state = state(place, tuning);
      Interruption.watch();
      return answer(run(tuning, state, engine), place);
    }
  }

  private Space space() throws PlanException, UsageException {
    Space space = Space.read(Source.of(file), extensions().policies());
    Range.check("--trials", trials, 1, 1_000_000_000_000L);
    if (fresh != null) {
      Range.check("--fresh", fresh, 20, 10_000_000);
    }
    if (seed != null && seed < 0) {
      throw new UsageException("--seed " + seed + " is below 0");
    }
    Space asked =
        space.with(
            seed == null ? space.head().seed() : seed,
            trials == null ? space.head().trials() : trials);
    Optional<TuneTarget> target = asked.target();
    return fresh == null || target.isEmpty() ? asked : asked.with(target.get().on(fresh));
  }

  private static TuneState state(Path place, Tuning tuning) throws UsageException {
    try {
      Files.createDirectories(place);
    } catch (IOException e) {
      throw new UsageException("--out " + place + ": the directory cannot be made");
    }
    try {
      return new TuneState(place, tuning);
    } catch (IOException e) {
      throw new UsageException(String.valueOf(e.getMessage()));
    }
  }

  private TuneResult run(Tuning tuning, TuneState state, Engine engine) throws IOException {
    long done = Math.min(state.trials(), tuning.trials());
    Rates rates = new Rates(tuning.trials() - done);
    try (Progress progress = Progress.of("trials", tuning.trials(), done)) {
      Engine.Watcher watcher =
          new Engine.Watcher() {
            @Override
            public void finished(int worker, long more, long busyNs) {
              rates.finished(worker, more, busyNs);
              progress.add(more);
            }

            @Override
            public void waiting(String why) {
              progress.say(why, err());
            }
          };
      TuneResult result =
          new TuneRun(tuning, state, engine, watcher, progress::tell, Interruption::requested)
              .run();
      if (rates.together() > 0) {
        err()
            .println(
                String.format(
                    Locale.ROOT,
                    "stopwell: %.1f trials/s; %s",
                    rates.together(),
                    rates.perWorker()));
      }
      return result;
    } catch (UncheckedIOException e) {
      throw e.getCause();
    }
  }

  private int answer(TuneResult result, Path place) throws IOException, PlanException {
    TuneFiles files = new TuneFiles(result, place);
    Path settings = files.settings();
    files.tables();
    Map<String, Object> values = result.values();
    Files.writeString(place.resolve("tune.json"), Json.text(values) + "\n", StandardCharsets.UTF_8);
    Files.writeString(place.resolve("tune.html"), TunePage.html(result), StandardCharsets.UTF_8);
    json.print(
        out(),
        values,
        out -> {
          TuneLines.print(result, out);
          out.accept("Settings file: " + settings);
          out.accept("Page: " + place.resolve("tune.html"));
        });
    if (!result.complete()) {
      err()
          .println(
              "stopwell: interrupted; "
                  + result.tried().size()
                  + " of "
                  + result.planned()
                  + " points are kept in "
                  + place
                  + "; give the same command to continue");
      return Verdict.UNDECIDED.exitCode();
    }
    return result.verdict().exitCode();
  }
}
