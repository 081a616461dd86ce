package org.stopwell.harness.console;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.stopwell.harness.tryout.TryPage;

/**
 * The pages and their parts as they lie in the jars, each read once. Nothing comes from a network.
 */
final class Shelf {
  private static final String HERE = "org/stopwell/harness/console/";
  private static final String CHART = "META-INF/resources/webjars/uplot/1.6.30/dist/";

  private static final Map<String, String> PLACES =
      Map.ofEntries(
          Map.entry("/", HERE + "console.html"),
          Map.entry("/console.js", HERE + "console.js"),
          Map.entry("/console.css", HERE + "console.css"),
          Map.entry("/calibration", HERE + "calibration.html"),
          Map.entry("/calibration.js", HERE + "calibration.js"),
          Map.entry("/canal.js", "org/stopwell/harness/tryout/canal.js"),
          Map.entry("/look.css", "org/stopwell/harness/report/look.css"),
          Map.entry("/uplot.js", CHART + "uPlot.iife.min.js"),
          Map.entry("/uplot.css", CHART + "uPlot.min.css"),
          Map.entry("/pictures.js", HERE + "pictures.js"),
          Map.entry("/live.html", HERE + "live.html"),
          Map.entry("/live.js", HERE + "live.js"),
          Map.entry("/live.css", HERE + "live.css"),
          Map.entry(SettingsDesk.PAGE, HERE + "settings.html"),
          Map.entry("/settings.js", HERE + "settings.js"),
          Map.entry("/settings.css", HERE + "settings.css"),
          Map.entry("/drawing.css", "org/stopwell/harness/report/drawing.css"));

  private static final Map<String, String> TYPES =
      Map.of(
          "html", "text/html; charset=utf-8",
          "js", "text/javascript; charset=utf-8",
          "css", "text/css; charset=utf-8",
          "xml", "application/xml");

  private final Map<String, Reply> read = new ConcurrentHashMap<>();

  /** What lies at a path, if anything does. */
  Optional<Reply> find(String path) throws IOException {
    boolean tryout = path.equals(Pages.TRY);
    String place = PLACES.get(path);
    if (place == null && !tryout) {
      return Optional.empty();
    }
    Reply there = read.get(path);
    if (there == null) {
      there = place == null ? tryout() : Reply.kept(type(place), bytes(place));
      read.put(path, there);
    }
    return Optional.of(there);
  }

  /** The page names its own scripts and styles by their hashes, so nothing else runs in it. */
  private static Reply tryout() {
    TryPage page = TryPage.assembled();
    return Reply.kept(type("try.html"), page.html().getBytes(StandardCharsets.UTF_8))
        .under(page.policy() + "; frame-ancestors 'none'");
  }

  /** The media type of a file by its name. */
  static String type(String name) {
    return Objects.requireNonNull(TYPES.get(name.substring(name.lastIndexOf('.') + 1)));
  }

  private static byte[] bytes(String place) throws IOException {
    try (InputStream in = Shelf.class.getClassLoader().getResourceAsStream(place)) {
      return Objects.requireNonNull(in, place).readAllBytes();
    }
  }
}
