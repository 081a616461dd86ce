package org.stopwell.mutation;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Proportion;

/**
 * Draws a random sample of the mutants of rig and harness, tries them one at a time, and writes how
 * many the tests notice and which survive.
 */
public final class MutationSample {
  private static final double CONFIDENCE = 0.95;

  private MutationSample() {}

  /**
   * Runs the sample.
   *
   * @param args root of the repository, directory for the reports, seed, size of the sample, share
   *     of all mutants that is tried (enough for that size)
   * @throws IOException when a report cannot be read or written
   * @throws InterruptedException when it is interrupted
   */
  public static void main(String[] args) throws IOException, InterruptedException {
    Path root = Path.of(args[0]).toRealPath();
    Path out = Files.createDirectories(Path.of(args[1])).toRealPath();
    String seed = args[2];
    int size = Integer.parseInt(args[3]);
    List<Mutant> tried = new ArrayList<>();
    for (Group group : Group.ALL) {
      Path report = out.resolve(group.name()).resolve("mutations.xml");
      if (!complete(report)) {
        run(group, root, out, seed, args[4]);
      }
      List<Mutant> here = Mutant.read(report);
      System.out.println(group.name() + ": " + here.size() + " mutants tried");
      tried.addAll(here);
    }
    if (tried.size() < size) {
      throw new IllegalArgumentException(
          "mutation.share " + args[4] + " gives " + tried.size() + " mutants, not " + size);
    }
    List<Mutant> sample =
        tried.stream().sorted(Comparator.comparingDouble(m -> m.draw(seed))).limit(size).toList();
    String page = page(sample);
    Files.writeString(out.resolve("sample.md"), page);
    System.out.println(page);
  }

  /** A group whose report is there need not run again: a broken run goes on. */
  private static boolean complete(Path report) throws IOException {
    return Files.exists(report) && Files.readString(report).contains("</mutations>");
  }

  private static void run(Group group, Path root, Path out, String seed, String share)
      throws IOException, InterruptedException {
    String classes =
        targets(root).stream()
            .flatMap(t -> Stream.of(t.resolve("classes"), t.resolve("test-classes")))
            .map(Path::toString)
            .collect(Collectors.joining(File.pathSeparator));
    int code =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-D" + Sample.SEED + "=" + seed,
                "-D" + Sample.SHARE + "=" + share,
                "-cp",
                classes + File.pathSeparator + System.getProperty("java.class.path"),
                "org.pitest.mutationtest.commandline.MutationCoverageReport",
                "--reportDir=" + out.resolve(group.name()),
                "--sourceDirs=" + root,
                "--mutableCodePaths=" + root + "/*/target/classes," + root + "/*/*/target/classes",
                "--targetClasses=" + group.classPatterns(),
                "--targetTests=" + group.testPatterns(),
                // They wait for the clock, start other programs or invent their inputs.
                "--excludedTestClasses=*jmh_generated*,*FuzzTest,*.record.Kill*Test",
                "--threads=2",
                // A busy machine must not look like a test that noticed.
                "--timeoutFactor=3",
                "--timeoutConst=30000",
                "--outputFormats=XML",
                "--failWhenNoMutations=false",
                "--jvmArgs=-Xmx1g,-XX:+UseSerialGC,-XX:TieredStopAtLevel=1")
            .directory(root.resolve(group.directory()).toFile())
            .redirectErrorStream(true)
            .redirectOutput(out.resolve(group.name() + ".log").toFile())
            .start()
            .waitFor();
    if (code != 0) {
      throw new IOException(group.name() + ": see " + out.resolve(group.name() + ".log"));
    }
  }

  /** Where the modules were compiled to. */
  private static List<Path> targets(Path root) throws IOException {
    List<Path> targets = new ArrayList<>();
    for (Path parent : List.of(root, root.resolve("hil-harness"))) {
      try (Stream<Path> modules = Files.list(parent)) {
        modules.map(m -> m.resolve("target")).filter(Files::exists).sorted().forEach(targets::add);
      }
    }
    return targets;
  }

  private static String page(List<Mutant> sample) {
    StringBuilder page = new StringBuilder();
    Map<String, List<Mutant>> areas =
        sample.stream()
            .collect(Collectors.groupingBy(Mutant::area, TreeMap::new, Collectors.toList()));
    page.append("| package | mutants | noticed | % |\n|---|---:|---:|---:|\n");
    areas.forEach((area, mutants) -> page.append(row(area, mutants)));
    page.append(row("all", sample));
    Interval interval =
        new Proportion(noticed(sample), sample.size()).clopperPearson(CONFIDENCE).orElseThrow();
    page.append(
        String.format(
            Locale.ROOT,
            "%nNoticed: %d of %d, %.1f %% (95 %% interval %.1f to %.1f %%). Of these by time-out or"
                + " for want of memory: %d.%n",
            noticed(sample),
            sample.size(),
            100.0 * noticed(sample) / sample.size(),
            100 * interval.low(),
            100 * interval.high(),
            sample.stream().filter(m -> m.noticed() && !m.status().equals("KILLED")).count()));
    page.append("\n| package | where | method | change | not run |\n|---|---|---|---|---|\n");
    sample.stream()
        .filter(m -> !m.noticed())
        .sorted(Comparator.comparing(Mutant::type).thenComparing(Mutant::line))
        .forEach(
            m ->
                page.append(
                    "| %s | %s | `%s` | %s | %s |%n"
                        .formatted(
                            m.area(),
                            m.place(),
                            m.method().substring(0, m.method().indexOf('(')),
                            m.text().replaceAll(" for org/stopwell.*", ""),
                            m.status().equals("NO_COVERAGE") ? "×" : "")));
    return page.toString();
  }

  private static String row(String area, List<Mutant> mutants) {
    return String.format(
        Locale.ROOT,
        "| `%s` | %d | %d | %.0f |%n",
        area,
        mutants.size(),
        noticed(mutants),
        100.0 * noticed(mutants) / mutants.size());
  }

  private static long noticed(List<Mutant> mutants) {
    return mutants.stream().filter(Mutant::noticed).count();
  }
}
