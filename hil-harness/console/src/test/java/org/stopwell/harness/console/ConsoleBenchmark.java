package org.stopwell.harness.console;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadInfo;
import java.lang.management.ThreadMXBean;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.openjdk.jmh.annotations.AuxCounters;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;
import org.stopwell.harness.campaign.Campaign;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * One campaign in one program with its console, in 256 MB: alone, and with 200 watchers who follow
 * it and read the list of runs every two seconds. The counters say how much of one core the threads
 * of the console take.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 1, time = 20)
@Measurement(iterations = 1, time = 20) // one, because counters of several are added up
@Fork(value = 1, jvmArgs = "-Xmx256m")
public class ConsoleBenchmark {
  private static final long STEP_NS = 1_000_000;
  private static final int FRAME = 1_500; // bytes; assumed: a frame of the live page

  /** How many browsers watch. */
  @Param({"0", "200"})
  public int watchers;

  private final List<Caller> callers = new ArrayList<>();
  private Path directory = Path.of("");
  private volatile boolean ended;

  @SuppressWarnings("NullAway.Init") // Opened in the setup.
  private Plan plan;

  @SuppressWarnings("NullAway.Init") // Opened in the setup.
  private ConsoleServer server;

  @SuppressWarnings("NullAway.Init") // Opened in the setup.
  private Thread browsers;

  /** What the console's threads used. */
  @State(Scope.Thread)
  @AuxCounters(AuxCounters.Type.EVENTS)
  public static class Share {
    private long wall;
    private double percent;
    private Map<Long, Long> used = Map.of();

    /** Starts to count. */
    @Setup(Level.Iteration)
    public void begin() {
      wall = System.nanoTime();
      used = cpuNs();
    }

    /** Ends to count, while the threads are there. */
    @TearDown(Level.Iteration)
    public void end() {
      long spent = 0;
      for (Map.Entry<Long, Long> thread : cpuNs().entrySet()) {
        spent += thread.getValue() - used.getOrDefault(thread.getKey(), 0L);
      }
      percent = 100.0 * spent / (System.nanoTime() - wall);
    }

    /**
     * The time of the processor that the threads of the console took.
     *
     * @return percent of one core
     */
    public double percentOfOneCore() {
      return percent;
    }

    /** By the number of the thread. */
    private static Map<Long, Long> cpuNs() {
      ThreadMXBean threads = ManagementFactory.getThreadMXBean();
      return Arrays.stream(threads.getThreadInfo(threads.getAllThreadIds()))
          .filter(thread -> thread != null && thread.getThreadName().startsWith("console"))
          .collect(
              Collectors.toMap(
                  ThreadInfo::getThreadId, t -> threads.getThreadCpuTime(t.getThreadId())));
    }
  }

  /** A console with its watchers. */
  @Setup
  public void open() throws Exception {
    plan = TestPlans.quick(20);
    directory = Files.createTempDirectory("console-benchmark");
    Path run = directory.resolve("run");
    RunFile.create(run, ConsoleServerTest.header(plan)).close();
    byte[] frame = "x".repeat(FRAME).getBytes(StandardCharsets.UTF_8);
    LiveSource source =
        new LiveSource() {
          @Override
          public Optional<byte[]> next() {
            return Optional.of(frame);
          }

          @Override
          public void close() {}
        };
    server =
        new ConsoleServer(
            new Pages(directory, null, null, SettingsDesk.NONE),
            0,
            null,
            any -> Optional.of(source),
            TimeUnit.SECONDS.toNanos(20));
    for (int i = 0; i < watchers; i++) {
      callers.add(new Caller(server).ask("GET /live/run"));
    }
    browsers = new Thread(this::browse, "browsers");
    browsers.start();
  }

  /** Reads what was sent, and asks for the list of runs once every two seconds for each watcher. */
  private void browse() {
    HttpClient client = HttpClient.newHttpClient(); // keeps its connection, as a browser does
    HttpRequest runs = HttpRequest.newBuilder(URI.create(server.address() + "api/runs")).build();
    try {
      while (!ended) {
        for (Caller caller : callers) {
          caller.skip();
        }
        if (watchers > 0) {
          client.send(runs, HttpResponse.BodyHandlers.discarding());
        }
        // readers that look a hundred times a second, so that they cost less than what they watch
        Thread.sleep(10);
      }
    } catch (IOException | InterruptedException e) {
      throw new IllegalStateException("nobody watches any more", e);
    }
  }

  /** The campaign. */
  @Benchmark
  public Campaign.End campaign(Share share) throws Exception {
    List<RunFile.Entry> kept = new ArrayList<>();
    VirtualBench bench = bench();
    return new Campaign(plan, List.of(), 1, () -> false, kept::addAll)
        .run(bench, ConsoleBenchmark::bench);
  }

  private static VirtualBench bench() {
    VirtualBench bench = new VirtualBench(STEP_NS);
    bench.open();
    return bench;
  }

  /** Leaves nothing behind. */
  @TearDown
  public void close() throws Exception {
    ended = true;
    browsers.join();
    callers.forEach(Caller::close);
    server.close();
    try (Stream<Path> files = Files.walk(directory)) {
      for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(file);
      }
    }
  }
}
