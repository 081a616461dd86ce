package org.stopwell.harness.console;

import java.io.IOException;
import java.net.URLDecoder;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.locks.ReentrantLock;
import java.util.stream.Collectors;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.plan.Mistake;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.report.Place;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.report.RunsPage;
import org.stopwell.harness.report.TrialsPage;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.harness.trial.PolicyFailure;

/**
 * Results as pages: the runs, the trials of one, one trial, and two runs compared. They hold no
 * script; each question is an address.
 */
final class ResultPages {
  private static final String HTML = "text/html; charset=utf-8";

  /** These pages hold no script: whatever a run file says, nothing runs. */
  private static final String POLICY =
      "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; base-uri 'none';"
          + " form-action 'self'";

  private static final Place.Link HOME = new Place.Link("Console", "/");
  private static final Place.Link RUNS = new Place.Link("Runs", RunsPage.ADDRESS);

  private final RunList runs;
  private final RunNews news;
  private final SettingsDesk settings;
  private final ReentrantLock simulating = new ReentrantLock();

  /**
   * Pages on some runs.
   *
   * @param runs where they are
   * @param news what is known of them
   * @param settings the settings that a trial can be replayed with
   */
  ResultPages(RunList runs, RunNews news, SettingsDesk settings) {
    this.runs = runs;
    this.news = news;
    this.settings = settings;
  }

  /** Whether a path is one of these pages. */
  static boolean has(String path) {
    return path.equals(RunsPage.ADDRESS)
        || path.startsWith(RunsPage.ADDRESS + "/")
        || path.equals(RunsPage.COMPARE);
  }

  /**
   * One page.
   *
   * @param path its path, decoded
   * @param query what follows the question mark, as it was sent; may be empty
   * @param guest whether somebody at another machine asks, who sees no settings
   */
  Reply get(String path, String query, boolean guest) throws IOException {
    Map<String, String> asked = parts(query);
    try {
      if (path.equals(RunsPage.ADDRESS)) {
        return page(list(asked));
      }
      if (path.equals(RunsPage.COMPARE)) {
        return alone(() -> compare(asked));
      }
      String[] parts = path.substring(RunsPage.ADDRESS.length() + 1).split("/", -1);
      Optional<Path> run = runs.find(parts[0]);
      if (run.isEmpty() || parts.length > 2) {
        return Reply.notFound();
      }
      return parts.length == 1
          ? page(trials(parts[0], run.get(), asked))
          : alone(
              () ->
                  trial(parts[0], run.get(), parts[1], guest ? "" : of(asked, "settings"), guest));
    } catch (RefusedException | PolicyFailure e) {
      return Reply.text(409, String.valueOf(e.getMessage()));
    } catch (PlanException e) {
      return Reply.text(
          409, e.mistakes().stream().map(Mistake::toString).collect(Collectors.joining("\n")));
    } catch (TraceException e) {
      return Reply.text(409, String.valueOf(e.getMessage()));
    }
  }

  /** Makes a page that may simulate trials. */
  private interface Simulation {
    Reply make() throws IOException, PlanException, TraceException, RefusedException;
  }

  /** One simulation at a time: a bench of this machine needs the other cores. */
  private Reply alone(Simulation page)
      throws IOException, PlanException, TraceException, RefusedException {
    if (!simulating.tryLock()) {
      return Reply.text(503, "Another page of this kind is being made. Load this one again.");
    }
    try {
      return page.make();
    } finally {
      simulating.unlock();
    }
  }

  /** A page without scripts, in one piece. */
  static Reply page(String html) {
    return Reply.kept(HTML, html.getBytes(StandardCharsets.UTF_8)).under(POLICY);
  }

  private String list(Map<String, String> asked) throws IOException {
    List<RunsPage.Run> all = new ArrayList<>();
    for (Map<String, Object> run : news.runs()) {
      String name = text(run, "name");
      all.add(
          new RunsPage.Run(
              name,
              text(run, "plan"),
              text(run, "bench"),
              Boolean.TRUE.equals(run.get("finished")) ? "finished" : "not finished",
              text(run, "verdict"),
              text(run, "run") + " of " + text(run, "planned"),
              text(run, "started"),
              address(name),
              Boolean.TRUE.equals(run.get("report"))
                  ? "/runs/" + encoded(name) + "/" + RunReport.PAGE
                  : "",
              text(run, "problem")));
    }
    return RunsPage.html(
        all,
        new RunsPage.Filter(
            of(asked, "text"), of(asked, "state"), of(asked, "verdict"), of(asked, "plan")),
        new Place(List.of(HOME)));
  }

  private String trials(String name, Path run, Map<String, String> asked) throws IOException {
    try (RunFile file = RunFile.load(run)) {
      List<Place.Link> links = new ArrayList<>(List.of(HOME, RUNS));
      if (Files.exists(run.resolve(RunReport.PAGE))) {
        links.add(
            new Place.Link("Report of this run", "/runs/" + encoded(name) + "/" + RunReport.PAGE));
      }
      return TrialsPage.html(
          name,
          Evidence.of(file, run),
          new TrialsPage.Filter(of(asked, "text"), of(asked, "condition"), of(asked, "verdict")),
          address(name),
          new Place(links));
    }
  }

  private Reply trial(String name, Path run, String number, String chosen, boolean guest)
      throws IOException, PlanException, TraceException, RefusedException {
    if (!number.matches("[1-9][0-9]{0,7}")) {
      return Reply.notFound();
    }
    Optional<Source> other = Optional.empty();
    if (!chosen.isEmpty()) {
      Optional<Path> file = settings.find(chosen);
      if (file.isEmpty()) {
        return Reply.text(404, "There are no settings of the name " + chosen + ".");
      }
      other = Optional.of(Source.of(file.get()));
    }
    Place place =
        new Place(
            List.of(HOME, RUNS, new Place.Link("Trials of " + name, address(name))),
            guest ? List.of() : settings.names(),
            chosen);
    return page(
        new TrialView(run, settings.policies()).page(Integer.parseInt(number), other, place));
  }

  private Reply compare(Map<String, String> asked)
      throws IOException, PlanException, RefusedException {
    Optional<Path> run = runs.find(of(asked, "run"));
    Optional<Path> baseline = runs.find(of(asked, "baseline"));
    if (run.isEmpty() || baseline.isEmpty()) {
      return Reply.text(404, "Choose two runs of the list: the run, and its baseline.");
    }
    double margin;
    try {
      margin = Double.parseDouble(asked.getOrDefault("margin_mm", "" + ComparedRuns.MARGIN_MM));
    } catch (NumberFormatException e) {
      margin = Double.NaN;
    }
    if (!(margin >= 0.001 && margin <= 10)) {
      return Reply.text(
          400, "The margin is " + of(asked, "margin_mm") + ", must be 0.001 to 10 mm.");
    }
    try (ComparedRuns compared =
        ComparedRuns.of(
            run.get(), baseline.get(), (int) Math.round(margin * 1000), settings.policies())) {
      return page(compared.page(new Place(List.of(HOME, RUNS))));
    }
  }

  private static String address(String run) {
    return RunsPage.ADDRESS + "/" + encoded(run);
  }

  static String encoded(String name) {
    return URLEncoder.encode(name, StandardCharsets.UTF_8).replace("+", "%20");
  }

  private static String text(Map<String, Object> run, String key) {
    return String.valueOf(run.getOrDefault(key, ""));
  }

  private static String of(Map<String, String> asked, String key) {
    return asked.getOrDefault(key, "");
  }

  /** The parts of a query; what is not well formed is left out. */
  private static Map<String, String> parts(String query) {
    Map<String, String> parts = new HashMap<>();
    for (String part : query.split("&", 20)) {
      int equals = part.indexOf('=');
      if (equals > 0) {
        try {
          parts.put(
              URLDecoder.decode(part.substring(0, equals), StandardCharsets.UTF_8),
              URLDecoder.decode(part.substring(equals + 1), StandardCharsets.UTF_8));
        } catch (IllegalArgumentException e) {
          // Not sent by a form of these pages.
        }
      }
    }
    return parts;
  }
}
