package org.stopwell.harness.console;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.live.LiveView;
import org.stopwell.harness.report.RunReport;
import tools.jackson.jr.ob.JSON;

/** What lies behind each path. It knows nothing of the network. */
final class Pages {
  /** Below this path lies what a run directory holds. */
  static final String RUNS = "/runs/";

  /** Below this path lies what a run does now: {@code /live/RUN}. */
  static final String LIVE = "/live/";

  /** Below this path lies the page of a run: {@code /watch/RUN}. */
  private static final String WATCH = "/watch/";

  private static final String WHOLE = "/api/live/";
  private static final String CHECK = "/api/check/";
  private static final long FRESH_NS = 1_000_000_000;

  /** The page to try a stop by hand. */
  static final String TRY = "/try";

  private static final Map<String, Object> NOT_ARMED = Map.of("armed", false);

  private final Shelf shelf = new Shelf();
  private final RunList runs;
  private final RunNews news;
  private final ResultPages results;
  private final SettingsDesk settings;
  private final @Nullable CalibrationDesk desk;
  private final @Nullable StartDesk starts;
  private final Map<Path, Shared<Reply>> live = new ConcurrentHashMap<>();

  Pages(
      Path directory,
      @Nullable CalibrationDesk desk,
      @Nullable StartDesk starts,
      SettingsDesk settings) {
    this.runs = new RunList(directory);
    this.news = new RunNews(runs);
    this.settings = settings;
    this.results = new ResultPages(runs, news, settings);
    this.desk = desk;
    this.starts = starts;
  }

  /** The answer to whoever looks. A guest sees neither what could be started nor what is asked. */
  Reply get(String path, String query, boolean guest) throws IOException {
    if (ResultPages.has(path)) {
      return results.get(path, query, guest);
    }
    if (!guest && path.startsWith(SettingsDesk.ADDRESS)) {
      return settings(path);
    }
    if (!guest && path.startsWith(SettingsDesk.STATE)) {
      return settings.state(path.substring(SettingsDesk.STATE.length()));
    }
    Optional<Reply> page = shelf.find(path);
    if (page.isPresent()) {
      return page.get();
    }
    if (path.startsWith(WATCH)) {
      return runs.find(path.substring(WATCH.length())).isPresent()
          ? shelf.find("/live.html").orElseThrow()
          : Reply.notFound();
    }
    if (path.startsWith(WHOLE)) {
      return live(path.substring(WHOLE.length()));
    }
    if (path.startsWith(CHECK)) {
      return starts == null || guest
          ? Reply.notFound()
          : json(starts.check(path.substring(CHECK.length())));
    }
    return switch (path) {
      case "/api/console" -> json(Map.of("look_only", guest));
      case "/api/runs" -> news.reply();
      case "/api/plans" -> json(starts == null || guest ? NOT_ARMED : starts.state());
      case "/api/calibration" -> json(desk == null || guest ? NOT_ARMED : desk.state());
      default -> artefact(path);
    };
  }

  /** The list of settings, the page of one of them, or a part of that page. */
  private Reply settings(String path) throws IOException {
    if (path.equals(SettingsDesk.ADDRESS)) {
      return settings.list();
    }
    boolean one = path.startsWith(SettingsDesk.ADDRESS + "/");
    return shelf.find(one ? SettingsDesk.PAGE : path).orElseGet(Reply::notFound);
  }

  Reply post(String path, byte[] body) throws IOException {
    if (path.startsWith(SettingsDesk.ADDRESS + "/")) {
      return settings.post(path, body);
    }
    if (desk != null && path.startsWith("/calibration/")) {
      return calibrate(path, body, desk);
    }
    if (starts != null && path.startsWith("/plans/")) {
      return start(path, body, starts);
    }
    String[] parts = path.split("/", -1);
    boolean resume = starts != null && parts.length == 4 && parts[3].equals("resume");
    if (parts.length != 4 || !parts[1].equals("runs") || !(resume || parts[3].equals("stop"))) {
      return Reply.text(403, "The console can only request the stop of a run.");
    }
    Optional<Path> run = runs.find(parts[2]);
    if (run.isEmpty()) {
      return Reply.text(404, "Run not found.");
    }
    if (starts != null && resume) {
      StartDesk.Answer answer =
          starts.resume(run.get(), new String(body, StandardCharsets.UTF_8).strip());
      news.forget();
      return Reply.text(answer.code, answer.text);
    }
    StopRequest.make(run.get());
    news.forget();
    return Reply.text(202, "Stop requested.");
  }

  /** The run that a path below {@link #LIVE} names. */
  Optional<Path> watched(String path) throws IOException {
    return runs.find(path.substring(LIVE.length()));
  }

  /** Everything of a live run, made once for all who ask within a second. */
  private Reply live(String name) throws IOException {
    Optional<Path> run = runs.find(name);
    if (run.isEmpty()) {
      return Reply.notFound();
    }
    return live.computeIfAbsent(run.get(), r -> new Shared<>(FRESH_NS, () -> whole(r))).get();
  }

  private static Reply whole(Path run) {
    Optional<LiveView> open = LiveView.open(run);
    if (open.isPresent()) {
      try (LiveView view = open.get()) {
        Optional<byte[]> all = view.whole();
        if (all.isPresent()) {
          return Reply.kept("application/json", all.get());
        }
      }
    }
    return Reply.text(404, "Nothing of this run is live.");
  }

  private static Reply json(Object values) throws IOException {
    return Reply.kept("application/json", JSON.std.asBytes(values));
  }

  private Reply artefact(String path) throws IOException {
    String[] parts = path.split("/", -1);
    boolean artefact =
        parts.length == 4
            && parts[1].equals("runs")
            && List.of(RunReport.PAGE, RunReport.JUNIT).contains(parts[3]);
    Optional<Path> run = artefact ? runs.find(parts[2]) : Optional.empty();
    if (run.isPresent()
        && Files.isRegularFile(run.get().resolve(parts[3]), LinkOption.NOFOLLOW_LINKS)) {
      return Reply.of(Shelf.type(parts[3]), run.get().resolve(parts[3]));
    }
    return Reply.notFound();
  }

  /** The body is the hash of the plan as it was shown: what was confirmed is what runs. */
  private static Reply start(String path, byte[] body, StartDesk starts) throws IOException {
    String[] parts = path.split("/", -1);
    if (parts.length != 4 || !parts[3].equals("start")) {
      return Reply.text(403, "Only the page of the console can start a plan.");
    }
    StartDesk.Answer answer = starts.start(parts[2], new String(body, StandardCharsets.UTF_8));
    return Reply.text(answer.code, answer.text);
  }

  /** The body is one line: the number of the question, a space, and the answer. */
  private static Reply calibrate(String path, byte[] body, CalibrationDesk desk) {
    switch (path) {
      case "/calibration/leave" -> {
        desk.leave();
        return Reply.text(202, "Calibration stopped.");
      }
      case "/calibration/answer" -> {
        String[] words = new String(body, StandardCharsets.UTF_8).split(" ", 2);
        boolean taken =
            words.length == 2
                && words[0].matches("[0-9]{1,9}")
                && desk.take(Long.parseLong(words[0]), words[1]);
        return taken
            ? Reply.text(202, "Answer received.")
            : Reply.text(409, "This question is no longer open. Reload the page.");
      }
      default -> {
        return Reply.notFound();
      }
    }
  }
}
