package org.stopwell.harness.explore;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Settings;

/** What an exploration leaves in its output directory beside the page: plans and tables. */
public final class ExploreFiles {
  private final ExploreWork work;
  private final Path directory;

  /**
   * The files of an exploration.
   *
   * @param work the work
   * @param directory output directory, which exists
   */
  public ExploreFiles(ExploreWork work, Path directory) {
    this.work = work;
    this.directory = directory;
  }

  /**
   * Writes the worst trials as plans that {@code run} runs, each with one trial.
   *
   * @param result the answer
   * @return the files, in the order of the worst trials
   * @throws IOException when a file cannot be written
   */
  public List<Path> worst(ExploreResult result) throws IOException {
    List<Path> files = new ArrayList<>();
    if (!(work.model() instanceof TrialModel model) || result.worst().isEmpty()) {
      return files;
    }
    Path folder = Files.createDirectories(directory.resolve("worst"));
    Map<String, String> settings = settings(work.space().plan(), folder);
    int rank = 1;
    for (ExploreResult.Worst worst : result.worst()) {
      Path file = folder.resolve(String.format(Locale.ROOT, "%02d.yaml", rank++));
      Files.writeString(
          file,
          "# Trial "
              + worst.trial()
              + " of exploration "
              + work.space().head().name()
              + ", simulated.\n"
              + model.text(work.values(worst.trial()), work.rest(worst.trial()), settings));
      files.add(file);
    }
    return files;
  }

  /**
   * The settings files as a plan in that folder names them.
   *
   * @param plan a plan that names them
   * @param folder where another plan is written
   * @return by their name in the plan
   */
  public static Map<String, String> settings(Plan plan, Path folder) {
    Map<String, Settings> all = new LinkedHashMap<>(plan.settingsFiles());
    all.put("", plan.settings());
    Map<String, String> names = new LinkedHashMap<>();
    all.forEach(
        (name, file) ->
            names.put(
                name,
                folder
                    .toAbsolutePath()
                    .normalize()
                    .relativize(Path.of(file.source().name()).toAbsolutePath().normalize())
                    .toString()));
    return names;
  }

  /**
   * Writes the tables as CSV: factors, points of the settings, terms of the surface.
   *
   * @param result the answer
   * @throws IOException when a file cannot be written
   */
  public void tables(ExploreResult result) throws IOException {
    List<String> factors = new ArrayList<>();
    factors.add(
        "factor,spread,first,first_low_95,first_high_95,total,total_low_95,total_high_95,effects,"
            + "mu_star,mu_star_low_95,mu_star_high_95,mu,sigma");
    for (ExploreResult.FactorResult f : result.factors()) {
      factors.add(
          String.join(
              ",",
              f.key().contains(",") ? '"' + f.key() + '"' : f.key(),
              '"' + f.spread() + '"',
              f.index()
                  .map(
                      i ->
                          i.first()
                              + ","
                              + i.firstInterval().low()
                              + ","
                              + i.firstInterval().high()
                              + ","
                              + i.total()
                              + ","
                              + i.totalInterval().low()
                              + ","
                              + i.totalInterval().high())
                  .orElse(",,,,,"),
              f.effect()
                  .map(
                      e ->
                          e.count()
                              + ","
                              + e.meanAbsolute()
                              + ","
                              + e.interval().low()
                              + ","
                              + e.interval().high()
                              + ","
                              + e.mean()
                              + ","
                              + e.spread())
                  .orElse(",,,,,")));
    }
    write("factors.csv", factors);
    if (!result.points().isEmpty()) {
      List<String> points = new ArrayList<>();
      points.add(
          String.join(",", result.settings())
              + ",trials,over_travel,early_stop,refused,seconds,on_front");
      for (ParetoFront.Point p : result.points()) {
        points.add(
            String.join(",", p.values())
                + ","
                + p.overTravel().trials()
                + ","
                + p.overTravel().count()
                + ","
                + p.early().count()
                + ","
                + p.refused().count()
                + ","
                + p.seconds()
                + ","
                + (p.onFront() ? 1 : 0));
      }
      write("points.csv", points);
    }
    if (result.surface().isPresent()) {
      List<String> terms = new ArrayList<>();
      terms.add("factor,other_factor,coefficient");
      for (Surface.Term term : result.surface().get().terms()) {
        terms.add(key(term.one()) + "," + key(term.other()) + "," + term.coefficient());
      }
      write("surface.csv", terms);
    }
  }

  private String key(int factor) {
    return factor < 0 ? "" : work.space().factors().get(factor).key();
  }

  private void write(String name, List<String> lines) throws IOException {
    try (BufferedWriter out =
        Files.newBufferedWriter(directory.resolve(name), StandardCharsets.UTF_8)) {
      for (String line : lines) {
        out.write(line);
        out.write('\n');
      }
    }
  }
}
