package org.stopwell.harness.console;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.Unblinding;
import org.stopwell.harness.report.RunReport;
import org.stopwell.rig.time.MachineClock;
import tools.jackson.jr.ob.JSON;

/**
 * The list of runs for any number of watchers. To read a run is to check its whole hash chain, so a
 * run is read again only when its files have changed; and a run that is being written, and changes
 * with every trial, at most in a twentieth of the time.
 */
final class RunNews {
  private static final long FRESH_NS = 500_000_000;

  /** After a read of 1 s it rests for 19 s: at most 5 % of one core. */
  private static final long REST = 19;

  private static final String NONE = "none";

  /** The log comes first: a run that is being written has one. */
  private static final List<String> PARTS =
      List.of(
          RunFile.NAME + "-wal", RunFile.NAME, RunReport.PAGE, StopRequest.NAME, Unblinding.NAME);

  private final RunList list;
  private final Map<Path, Known> known = new ConcurrentHashMap<>();
  private final Shared<Reply> reply = new Shared<>(FRESH_NS, this::make);

  RunNews(RunList list) {
    this.list = list;
  }

  private record Known(List<String> stamp, long dueNs, Map<String, Object> run) {}

  /** What is sent to whoever asks. */
  Reply reply() throws IOException {
    return reply.get();
  }

  /** Somebody has asked for something that changes a run. */
  void forget() {
    known.replaceAll((run, was) -> new Known(was.stamp, MachineClock.nowNs(), was.run));
    reply.forget();
  }

  private Reply make() throws IOException {
    return Reply.kept("application/json", JSON.std.asBytes(runs()));
  }

  /** Every run, the newest first. */
  List<Map<String, Object>> runs() throws IOException {
    List<Path> directories = list.directories();
    known.keySet().retainAll(directories);
    List<Map<String, Object>> runs = new ArrayList<>();
    for (Path directory : directories) {
      Map<String, Object> run = new LinkedHashMap<>(read(directory));
      // Looked up each time: a campaign that was killed changes no file.
      run.put("running", RunFile.holder(directory).isPresent());
      runs.add(run);
    }
    runs.sort(Comparator.comparing(RunNews::started).reversed());
    return runs;
  }

  private static String started(Map<String, Object> run) {
    return String.valueOf(run.getOrDefault("started", ""));
  }

  private Map<String, Object> read(Path directory) {
    List<String> stamp = stamp(directory);
    Known was = known.get(directory);
    long began = MachineClock.nowNs();
    boolean written = !stamp.get(0).equals(NONE);
    if (was != null && (was.stamp.equals(stamp) || (written && began - was.dueNs < 0))) {
      return was.run;
    }
    Map<String, Object> run = list.read(directory);
    long ended = MachineClock.nowNs();
    known.put(directory, new Known(stamp, ended + REST * (ended - began), run));
    return run;
  }

  private static List<String> stamp(Path directory) {
    return PARTS.stream().map(part -> stampOf(directory.resolve(part))).toList();
  }

  private static String stampOf(Path file) {
    try {
      long size = Files.size(file);
      // A reader leaves an empty log behind.
      return size == 0 && file.endsWith(PARTS.get(0))
          ? NONE
          : Files.getLastModifiedTime(file) + " " + size;
    } catch (IOException e) {
      return NONE;
    }
  }
}
