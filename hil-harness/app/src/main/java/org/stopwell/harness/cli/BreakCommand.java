package org.stopwell.harness.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.breaking.BreakException;
import org.stopwell.harness.breaking.BreakResult;
import org.stopwell.harness.breaking.BreakSearch;
import org.stopwell.harness.breaking.BreakState;
import org.stopwell.harness.breaking.Limits;
import org.stopwell.harness.breaking.Scope;
import org.stopwell.harness.explore.ExploreFiles;
import org.stopwell.harness.explore.Rates;
import org.stopwell.harness.input.InputFile;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Searches the smallest disturbance that makes the file over-travel. */
@Command(
    name = "break",
    description = {
      "Searches for the smallest disturbance that takes the file past the foramen: motion of the"
          + " hand, noise of the front end, and at most one fault. It shrinks the disturbance until"
          + " every part of it is needed, and writes it as a plan that run repeats exactly.",
      "",
      "Each part has a share of its limit: 0 as in the plan, 1 at the limit. The size of a disturbance"
          + " is the sum of the shares. Virtual bench only; every result is simulated. A search that"
          + " finds nothing is no proof that nothing exists.",
      "",
      "Exit codes: 0 nothing was found, 1 the file goes past the foramen, 2 wrong usage,"
          + " 5 interrupted before anything was found. Ctrl-C keeps the smallest disturbance so far."
          + " Give the same command again to continue."
    },
    footer = {
      Questions.HELP,
      "",
      "Examples:",
      "  stopwell break docs/plans/reference-canal.yaml --condition half-wet/steady",
      "  stopwell break PLAN --only hand,noise --starts 200",
      "  stopwell break PLAN --only hand,faults.jump --limit hand.feed_mm_per_s=1.2",
      "",
      "In the output directory: plan.yaml, the plan with the disturbance; break.state, the finished"
          + " part."
    },
    mixinStandardHelpOptions = true)
final class BreakCommand extends StopwellCommand {
  private static final Path BREAKS = Path.of("breaks");
  private static final String WRITTEN = "plan.yaml";

  /** A speed is shown once in so many trials. */
  private static final int SHOWN = 20;

  @Parameters(paramLabel = "PLAN", description = "The plan, a YAML file.")
  Path file = Path.of("");

  @Option(
      names = "--condition",
      paramLabel = "NAME",
      description = "The condition whose trials are disturbed. Default: the only one.")
  @Nullable String condition;

  @Option(
      names = "--only",
      paramLabel = "WHAT",
      split = ",",
      description =
          "What may disturb: hand, noise, faults, or one kind such as faults.jump. Default: all of"
              + " these except the fault runs_on, which no software can correct.")
  List<String> only = new ArrayList<>();

  @Option(
      names = "--limit",
      paramLabel = "KEY=VALUE",
      description =
          "Another limit, in the unit of the key: a key of hand or front_end, faults.for_ms, or"
              + " faults.KIND for its strength. Repeat as needed.")
  Map<String, String> limits = new LinkedHashMap<>();

  @Option(
      names = "--canals",
      paramLabel = "N",
      description =
          "Canals, each with its own noise, that the plan draws. Default: ${DEFAULT-VALUE}.",
      defaultValue = "4")
  int canals = 4;

  @Option(
      names = "--starts",
      paramLabel = "N",
      description = "Random disturbances to start from. Default: ${DEFAULT-VALUE}.",
      defaultValue = "48")
  int starts = 48;

  @Option(
      names = "--steps",
      paramLabel = "N",
      description = "Trials of the walk from each start. Default: ${DEFAULT-VALUE}.",
      defaultValue = "60")
  int steps = 60;

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of canals, noise and search. Default: as in the plan.")
  @Nullable Long seed;

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description = "Output directory. Default: breaks/ and the name of the plan.")
  @Nullable Path out;

  @Mixin JobsOption jobs = new JobsOption();

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    Range.check("--canals", canals, 1, 1_000);
    Range.check("--starts", starts, 1, 1_000_000);
    Range.check("--steps", steps, 1, 100_000);
    if (seed != null && seed < 0) {
      throw new UsageException("--seed " + seed + " is below 0");
    }
    Scope scope = scope();
    Plan plan = Plan.read(Source.of(file), extensions().policies());
    PlanOptions.onModels(plan, "break");
    PlanOptions.ownController(plan, "break");
    String wanted = ConditionOption.of(plan, condition);
    int atOnce = new BenchOptions().jobs(jobs.asked);
    BreakSearch.Work work =
        new BreakSearch.Work(
            canals, starts, steps, seed == null ? plan.head().seed() : seed, atOnce);
    Path directory = directory(plan);
    String fingerprint =
        BreakSearch.fingerprint(plan, wanted, scope, work, Build.identity(), extensions().own());
    BreakState state = state(directory, fingerprint);
    Interruption.watch();
    Path written = directory.resolve(WRITTEN);
    BreakResult result = search(plan, wanted, scope, work, state, written);
    print(result, written);
    if (!result.complete()) {
      err()
          .println(
              "stopwell: interrupted; "
                  + state.parts()
                  + " finished parts are kept in "
                  + directory
                  + "; give the same command to continue");
    }
    return result.breach().isPresent()
        ? Verdict.FAIL.exitCode()
        : result.complete() ? Verdict.PASS.exitCode() : Verdict.UNDECIDED.exitCode();
  }

  private Scope scope() throws BreakException {
    Limits stated;
    try {
      stated = Limits.with(limits);
    } catch (BreakException e) {
      throw e.at("--limit");
    }
    try {
      return Scope.of(only, stated);
    } catch (BreakException e) {
      throw e.at("--only");
    }
  }

  /** Made before the search: what takes long must not end at a directory that cannot be made. */
  private Path directory(Plan plan) throws UsageException {
    Path directory = out == null ? BREAKS.resolve(plan.head().name()) : out;
    if (Files.exists(directory.resolve(WRITTEN))
        && !Files.exists(directory.resolve(BreakState.NAME))) {
      throw new UsageException(
          "--out "
              + directory
              + ": holds a plan that no search of this directory wrote; name another directory");
    }
    try {
      return Files.createDirectories(directory);
    } catch (IOException e) {
      throw new UsageException("--out " + directory + ": cannot be made: " + InputFile.reason(e));
    }
  }

  private static BreakState state(Path directory, String fingerprint) throws UsageException {
    try {
      return new BreakState(directory, fingerprint);
    } catch (IOException e) {
      throw new UsageException(String.valueOf(e.getMessage()));
    }
  }

  private BreakResult search(
      Plan plan, String wanted, Scope scope, BreakSearch.Work work, BreakState state, Path written)
      throws Exception {
    try (Progress progress = Progress.of("parts", work.canals() + work.starts(), state.parts());
        BreakSearch search =
            new BreakSearch(
                plan,
                wanted,
                scope,
                work,
                BenchOptions.PERIOD_NS,
                Interruption::requested,
                state,
                new Shown(progress))) {
      BreakResult result = search.search();
      if (result.breach().isPresent()) {
        write(search, plan, result, written);
        if (result.complete()) {
          check(search, result.breach().get(), written);
        }
      }
      return result;
    }
  }

  private void print(BreakResult result, Path written) throws IOException {
    String command = "stopwell run " + written;
    Map<String, Object> values = new LinkedHashMap<>(BreakLines.values(result));
    if (result.breach().isPresent()) {
      values.put("repeat", command);
    }
    json.print(
        out(),
        values,
        lines -> {
          BreakLines.print(result, lines);
          if (result.breach().isPresent()) {
            lines.accept("Repeat it: " + command);
          }
        });
  }

  private static void write(BreakSearch search, Plan plan, BreakResult result, Path path)
      throws UsageException {
    Path folder = path.toAbsolutePath().getParent();
    String text =
        search.text(ExploreFiles.settings(plan, folder == null ? path : folder)).orElseThrow();
    TextFile.write(
        "--out",
        path,
        writer -> {
          for (String line : BreakLines.heading(result)) {
            writer.write("# " + line + "\n");
          }
          writer.write(text);
        });
  }

  /** The written plan is read and run as anybody does it. */
  private void check(BreakSearch search, BreakResult.Breach breach, Path path) throws Exception {
    Plan again = Plan.read(Source.of(path), extensions().policies());
    if (!search.repeats(again, breach)) {
      throw new IllegalStateException(path + " does not repeat the trial that was found");
    }
  }

  /** The progress line: parts, trials per second, and what was found. */
  private static final class Shown implements BreakSearch.Progress {
    private final Progress line;
    private final Rates rates = new Rates(0);
    private int trials;
    private String found = "";

    Shown(Progress line) {
      this.line = line;
    }

    @Override
    public synchronized void planned(int parts) {
      line.most(parts);
    }

    @Override
    public synchronized void ended() {
      line.add(1);
    }

    @Override
    public synchronized void trial() {
      rates.finished(0, 1, 0);
      if (++trials % SHOWN == 0) {
        line.tell(String.format(Locale.ROOT, "%.1f trials/s%s", rates.together(), found));
      }
    }

    @Override
    public synchronized void found(BreakResult.Breach breach) {
      found = String.format(Locale.ROOT, ", size %.2f", breach.size());
    }
  }
}
