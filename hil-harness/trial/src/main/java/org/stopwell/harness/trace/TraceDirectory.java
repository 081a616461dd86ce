package org.stopwell.harness.trace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.stopwell.harness.input.InputFile;

/**
 * CSV traces of teeth whose true depth is known, one approach per file. {@code manifest.csv} says
 * which tooth and fluid each is of; without one the tooth is the file name up to its first
 * underscore. The traces themselves are read one by one.
 *
 * @param directory where they are
 * @param approaches one per file, by the name of the file
 * @param frequencies the frequencies of every trace, ascending, Hz; none for distances
 * @param simulated whether the manifest marks any trace as simulated
 * @param unread columns of the manifest that have no meaning here
 */
public record TraceDirectory(
    Path directory,
    List<TracedApproach> approaches,
    List<Integer> frequencies,
    boolean simulated,
    List<String> unread) {

  /** The file that says which tooth and fluid each trace is of. */
  public static final String MANIFEST = "manifest.csv";

  /** Stands for the fluid where there is no manifest. */
  public static final String FLUID_NOT_STATED = "not stated";

  /** Most traces; assumed: a thousand teeth with ten fluids and ten approaches each. */
  static final int MOST_TRACES = 100_000;

  private static final int MOST_MISTAKES = 20;

  /** Copies what is given. */
  public TraceDirectory {
    approaches = List.copyOf(approaches);
    frequencies = List.copyOf(frequencies);
    unread = List.copyOf(unread);
  }

  /**
   * Whether a directory holds CSV files, so that it can be meant as one of traces.
   *
   * @param directory any directory
   * @return false too where it cannot be read
   */
  public static boolean hasTraces(Path directory) {
    try (Stream<Path> files = Files.list(directory)) {
      return files.anyMatch(TraceDirectory::isCsv);
    } catch (IOException e) {
      return false;
    }
  }

  /**
   * Reads names, manifest and the head of every trace.
   *
   * @param directory where
   * @return the directory, with at least one trace
   * @throws TraceException with every mistake, at most 20
   */
  public static TraceDirectory read(Path directory) throws TraceException {
    TreeMap<String, Path> files = files(directory);
    Path manifest = directory.resolve(MANIFEST);
    List<String> mistakes = new ArrayList<>();
    List<String> unread = new ArrayList<>();
    boolean simulated = false;
    Map<String, TracedApproach> named;
    if (Files.exists(manifest)) {
      TraceManifest read = TraceManifest.read(manifest, files);
      named = read.named();
      simulated = read.simulated();
      unread.addAll(read.unread());
    } else {
      named = byName(files, mistakes);
    }
    refuse(mistakes);
    String first = "";
    String held = "";
    List<Integer> frequencies = List.of();
    for (TracedApproach approach : named.values()) {
      try {
        CsvColumns columns =
            CsvTrace.guarded(
                approach.file(), rows -> new CsvCheck(approach.file(), rows, 1, true).columns());
        String signal = CsvColumns.signal(columns.distance(), columns.frequencies());
        if (first.isEmpty()) {
          first = approach.file().getFileName().toString();
          held = signal;
          frequencies = columns.frequencies();
        } else if (!signal.equals(held)) {
          mistakes.add(
              approach.file()
                  + ":1: holds "
                  + signal
                  + ", "
                  + first
                  + " holds "
                  + held
                  + "; the traces of a directory must hold one signal");
        }
      } catch (TraceException e) {
        mistakes.addAll(e.mistakes());
      }
      if (mistakes.size() >= MOST_MISTAKES) {
        break;
      }
    }
    refuse(mistakes);
    return new TraceDirectory(
        directory, List.copyOf(named.values()), frequencies, simulated, unread);
  }

  private static void refuse(List<String> mistakes) throws TraceException {
    if (!mistakes.isEmpty()) {
      throw new TraceException(mistakes.stream().limit(MOST_MISTAKES).toList());
    }
  }

  private static TreeMap<String, Path> files(Path directory) throws TraceException {
    TreeMap<String, Path> files = new TreeMap<>();
    try (Stream<Path> all = Files.list(directory)) {
      all.filter(TraceDirectory::isCsv)
          .limit(MOST_TRACES + 2L)
          .forEach(f -> files.put(f.getFileName().toString(), f));
    } catch (IOException e) {
      throw new TraceException(List.of(directory + ": cannot be read: " + InputFile.reason(e)));
    }
    files.remove(MANIFEST);
    if (files.isEmpty()) {
      throw new TraceException(List.of(directory + ": no traces; they are files named *.csv"));
    }
    if (files.size() > MOST_TRACES) {
      throw new TraceException(
          List.of(
              directory
                  + ": has more than "
                  + MOST_TRACES
                  + " traces, must have at most "
                  + MOST_TRACES
                  + "; divide them over several directories by tooth"));
    }
    return files;
  }

  private static boolean isCsv(Path file) {
    return file.getFileName().toString().toLowerCase(Locale.ROOT).endsWith(".csv");
  }

  private static Map<String, TracedApproach> byName(
      Map<String, Path> files, List<String> mistakes) {
    Map<String, TracedApproach> named = new TreeMap<>();
    files.forEach(
        (name, file) -> {
          int end = name.indexOf('_');
          String tooth = end < 0 ? "" : name.substring(0, end).strip();
          if (TraceManifest.isName(tooth)) {
            named.put(name, new TracedApproach(file, tooth, FLUID_NOT_STATED, 0));
          } else {
            mistakes.add(
                CsvCheck.printable(file.toString())
                    + ": which tooth is not known; name the file TOOTH_….csv or write "
                    + MANIFEST
                    + " with the columns file,tooth,fluid");
          }
        });
    return named;
  }
}
