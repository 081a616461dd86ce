package org.stopwell.harness.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import tools.jackson.jr.ob.JSON;

/** How a physical bench is reached. A run file keeps it, so that resume needs no options. */
final class Connection {
  private static final String KIND = "connection";
  private static final String PORT = "port";
  private static final String DRIVE_PORT = "drive_port";
  private static final String STATION = "station";
  private static final String BAUD = "baud";

  private Connection() {}

  /** Keeps how a bench is reached, unless that is on record already. */
  static void note(BenchOptions options, RunFile file) throws IOException, UsageException {
    if (!options.kind().attached() && !options.realTime) {
      return;
    }
    Map<String, Object> values = new LinkedHashMap<>();
    put(values, PORT, options.at.port);
    put(values, DRIVE_PORT, options.at.drivePort);
    Path station = options.at.station;
    put(values, STATION, station == null ? null : station.toAbsolutePath().toString());
    values.put(BAUD, options.baud);
    String text = JSON.std.asString(values);
    if (!text.equals(newest(file))) {
      file.note(KIND, text);
    }
  }

  private static void put(Map<String, Object> values, String key, @Nullable String value) {
    if (value != null) {
      values.put(key, value);
    }
  }

  /** Fills in missing options from the run file. */
  static void fill(BenchOptions options, RunFile file) throws IOException {
    Map<String, Object> values = JSON.std.mapFrom(newest(file));
    if (options.at.port == null) {
      options.at.port = (String) values.get(PORT);
    }
    if (options.at.drivePort == null) {
      options.at.drivePort = (String) values.get(DRIVE_PORT);
    }
    if (options.at.station == null && values.get(STATION) instanceof String station) {
      options.at.station = Path.of(station);
    }
    if (values.get(BAUD) instanceof Integer baud) {
      options.baud = baud;
    }
  }

  private static String newest(RunFile file) throws RunFileException {
    List<String> all =
        file.notes().stream().filter(n -> n.kind().equals(KIND)).map(RunFile.Note::text).toList();
    return all.isEmpty() ? "{}" : all.get(all.size() - 1);
  }
}
