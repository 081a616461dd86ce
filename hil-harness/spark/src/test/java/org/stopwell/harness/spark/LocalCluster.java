package org.stopwell.harness.spark;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.jar.JarEntry;
import java.util.jar.JarOutputStream;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.time.MachineClock;

/** A standalone cluster on this machine, from the jars of the build: each part is a process. */
final class LocalCluster implements AutoCloseable {
  /** Longest wait for a process, ns; a busy machine takes many times what a quiet one takes. */
  static final long START_NS = 300_000_000_000L;

  private static final String JAVA =
      Path.of(System.getProperty("java.home"), "bin/java").toString();

  private static final Path MODULE = Path.of("").toAbsolutePath();
  private static final Path SPARK_HOME = MODULE.resolve("target/spark");
  private static final Pattern MASTER = Pattern.compile("spark://127\\.0\\.0\\.1:\\d+");

  private final Path place;
  private final List<Process> processes = new ArrayList<>();
  private final String url;

  /** Starts a master. */
  LocalCluster(Path place) throws IOException {
    this.place = place;
    Path log = place.resolve("master.log");
    start(log, "org.apache.spark.deploy.master.Master", "--port", "0");
    this.url = found(log, MASTER);
  }

  String url() {
    return url;
  }

  /** Starts a worker with one core, and waits until the master has it. */
  Process worker(String name) throws IOException {
    Path log = place.resolve(name + ".log");
    Process worker =
        start(
            log,
            "org.apache.spark.deploy.worker.Worker",
            "--cores",
            "1",
            "--memory",
            "512M",
            "--work-dir",
            place.resolve(name).toString(),
            url);
    found(log, Pattern.compile("Successfully registered with master"));
    return worker;
  }

  /** Starts the program as the launcher does. */
  Process program(Path log, String... words) throws IOException {
    Path app = MODULE.resolve("../app/target/stopwell.jar");
    String classes =
        String.join(
            ":",
            app.toString(),
            MODULE.resolve("target/harness-spark.jar").toString(),
            SPARK_HOME.resolve("jars") + "/*");
    List<String> line =
        new ArrayList<>(
            List.of(
                JAVA,
                "-Xmx512m",
                "-XX:+UseSerialGC",
                "-Dslf4j.provider=org.slf4j.nop.NOPServiceProvider",
                "-Dslf4j.internal.verbosity=WARN",
                "-Dspark.executor.memory=512m",
                "-cp",
                classes,
                "org.stopwell.harness.cli.Main"));
    line.addAll(List.of(words));
    Process program =
        new ProcessBuilder(line).redirectErrorStream(true).redirectOutput(log.toFile()).start();
    processes.add(program);
    return program;
  }

  /** Kills a worker and the process that does its shards, as a power cut does. */
  static void kill(Process worker) {
    List<ProcessHandle> shards = worker.descendants().toList();
    worker.destroyForcibly();
    shards.forEach(ProcessHandle::destroyForcibly);
  }

  private Process start(Path log, String... words) throws IOException {
    List<String> line =
        new ArrayList<>(
            List.of(
                JAVA,
                "-Xmx128m",
                "-XX:+UseSerialGC",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                SPARK_HOME.resolve("jars") + "/*"));
    line.add(words[0]);
    line.addAll(List.of("--host", "127.0.0.1", "--webui-port", "0"));
    line.addAll(List.of(words).subList(1, words.length));
    ProcessBuilder builder = new ProcessBuilder(line);
    builder.environment().put("SPARK_HOME", SPARK_HOME.toString());
    builder.environment().put("SPARK_SCALA_VERSION", "2.13");
    Process process =
        builder
            .directory(place.toFile())
            .redirectErrorStream(true)
            .redirectOutput(log.toFile())
            .start();
    processes.add(process);
    return process;
  }

  private static String found(Path log, Pattern wanted) throws IOException {
    Deadline deadline = Deadline.in(START_NS);
    while (!deadline.passed()) {
      Matcher matcher = wanted.matcher(Files.readString(log));
      if (matcher.find()) {
        return matcher.group();
      }
      MachineClock.waitNs(50_000_000);
    }
    throw new IllegalStateException(wanted + " is not in " + Files.readString(log));
  }

  @Override
  public void close() {
    processes.forEach(LocalCluster::kill);
  }

  /** What the workers get: the jars of the program, the module, and the classes of these tests. */
  static ShippedJars jars(Path place) throws IOException {
    List<Path> jars = new ArrayList<>();
    try (Stream<Path> all = Files.list(MODULE.resolve("../app/target/lib"))) {
      all.filter(f -> f.toString().endsWith(".jar")).sorted().forEach(jars::add);
    }
    jars.add(MODULE.resolve("target/harness-spark.jar"));
    jars.add(jar(MODULE.resolve("target/test-classes"), place.resolve("tests.jar")));
    return new ShippedJars(jars, List.of());
  }

  private static Path jar(Path classes, Path jar) throws IOException {
    try (OutputStream file = Files.newOutputStream(jar);
        JarOutputStream out = new JarOutputStream(file);
        Stream<Path> all = Files.walk(classes)) {
      all.filter(Files::isRegularFile)
          .forEach(
              one -> {
                try {
                  out.putNextEntry(new JarEntry(classes.relativize(one).toString()));
                  Files.copy(one, out);
                  out.closeEntry();
                } catch (IOException e) {
                  throw new UncheckedIOException(e);
                }
              });
    }
    return jar;
  }
}
