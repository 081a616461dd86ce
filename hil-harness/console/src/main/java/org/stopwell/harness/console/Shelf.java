package org.stopwell.harness.console;

import java.io.IOException;
import java.io.InputStream;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.jspecify.annotations.Nullable;

/**
 * The pages and their parts as they lie in the jars, each read once. Nothing comes from a network.
 */
final class Shelf {
  private static final String HERE = "org/stopwell/harness/console/";
  private static final String CHART = "META-INF/resources/webjars/uplot/1.6.30/dist/";

  private static final Map<String, String> PLACES =
      Map.of(
          "/",
          HERE + "console.html",
          "/console.js",
          HERE + "console.js",
          "/console.css",
          HERE + "console.css",
          "/calibration",
          HERE + "calibration.html",
          "/calibration.js",
          HERE + "calibration.js",
          "/canal.js",
          HERE + "canal.js",
          "/look.css",
          "org/stopwell/harness/report/look.css",
          "/uplot.js",
          CHART + "uPlot.iife.min.js",
          "/uplot.css",
          CHART + "uPlot.min.css",
          Pages.TRY,
          "org/stopwell/harness/tryout/try.html");

  private static final Map<String, String> TYPES =
      Map.of(
          "html", "text/html; charset=utf-8",
          "js", "text/javascript; charset=utf-8",
          "css", "text/css; charset=utf-8",
          "xml", "application/xml");

  private final Map<String, Reply> read = new ConcurrentHashMap<>();

  /** What lies at a path, if anything does. */
  Optional<Reply> find(String path) throws IOException {
    String place = PLACES.get(path);
    if (place == null) {
      return Optional.empty();
    }
    Reply there = read.get(path);
    if (there == null) {
      byte[] bytes = bytes(place);
      if (bytes == null) {
        return Optional.empty();
      }
      there = Reply.kept(type(place), bytes);
      read.put(path, there);
    }
    return Optional.of(there);
  }

  /** The media type of a file by its name. */
  static String type(String name) {
    return Objects.requireNonNull(TYPES.get(name.substring(name.lastIndexOf('.') + 1)));
  }

  private static byte @Nullable [] bytes(String place) throws IOException {
    try (InputStream in = Shelf.class.getClassLoader().getResourceAsStream(place)) {
      return in == null ? null : in.readAllBytes();
    }
  }
}
