package org.stopwell.harness.console;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToIntFunction;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.advice.PlanAdvice;
import org.stopwell.harness.evidence.SentinelWatch;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.record.FreeDirectory;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.fault.FaultyBench;

/**
 * Starts campaigns for the page: plans of one directory, on one bench, both chosen by whoever
 * started the console at the machine itself. One campaign at a time, and none any more after one
 * that the emergency stop ended: for that somebody must come to the machine.
 */
public final class StartDesk {
  private static final int LINES = 30;

  /** To read a directory of plans is to check every one of them. */
  private static final long PLANS_FRESH_NS = 5_000_000_000L;

  private final Path plans;
  private final String bench;
  private final String kind;
  private final boolean physical;
  private final Path runs;
  private final Policies policies;
  private final Runner runner;
  private final Shared<List<Map<String, Object>>> offered =
      new Shared<>(PLANS_FRESH_NS, this::plans);
  private final List<String> said = new ArrayList<>();
  private String running = "";
  private String last = "";
  private int lastCode;
  private boolean locked;
  private boolean leaving;
  private @Nullable Thread thread;

  /** What runs a plan or resumes a run, with every check of the command line. */
  public interface Runner {
    /**
     * Runs a plan to its end.
     *
     * @param plan its file
     * @param directory where the run goes
     * @param words receives what is said on the way
     * @return the exit code
     */
    int run(Path plan, Path directory, PrintWriter words);

    /**
     * Resumes a run to its end.
     *
     * @param directory where the run is
     * @param service what was done at the bench after a bad sentinel; empty without one
     * @param words receives what is said on the way
     * @return the exit code
     */
    int resume(Path directory, String service, PrintWriter words);
  }

  /** What became of a request. */
  enum Answer {
    STARTED(202, "Started."),
    UNKNOWN(404, "Plan not found."),
    CHANGED(409, "The plan has changed since the page showed it. Reload the page."),
    BUSY(409, "A campaign is running. Wait for its end."),
    FINISHED(409, "The run is finished."),
    OTHER_BENCH(409, "The run belongs to another bench than the one that this console may use."),
    NO_SERVICE(409, "State what was done at the bench since the bad known-answer trial."),
    LOCKED(409, "The last campaign ended in SAFETY_STOP. Restart the console at the machine.");

    final int code;
    final String text;

    Answer(int code, String text) {
      this.code = code;
      this.text = text;
    }
  }

  /**
   * A desk at which nothing was started yet.
   *
   * @param plans directory of the plans that may be started
   * @param bench the bench in a few words
   * @param kind its word for {@code --bench}
   * @param physical whether a motor turns
   * @param runs where run directories go
   * @param policies the policies that settings may name
   * @param runner what runs a plan
   */
  public StartDesk(
      Path plans,
      String bench,
      String kind,
      boolean physical,
      Path runs,
      Policies policies,
      Runner runner) {
    this.plans = plans;
    this.bench = bench;
    this.kind = kind;
    this.physical = physical;
    this.runs = runs;
    this.policies = policies;
    this.runner = runner;
  }

  /** What the page shows. */
  Map<String, Object> state() throws IOException {
    List<Map<String, Object>> all = offered.get();
    Map<String, Object> state = new LinkedHashMap<>();
    state.put("armed", true);
    state.put("bench", bench);
    state.put("physical", physical);
    state.put("directory", plans.toString());
    state.put("plans", all);
    synchronized (this) {
      state.put("running", running);
      state.put("last", last);
      state.put("code", lastCode);
      state.put("said", List.copyOf(said));
      state.put("locked", locked ? Answer.LOCKED.text : "");
    }
    return state;
  }

  /**
   * Starts a plan.
   *
   * @param name its file name
   * @param shown the hash of the plan as it was shown and confirmed
   */
  Answer start(String name, String shown) throws IOException {
    offered.forget();
    Optional<Path> file = file(name);
    if (file.isEmpty()) {
      return Answer.UNKNOWN;
    }
    Plan plan;
    try {
      plan = Plan.read(Source.of(file.get()), policies);
    } catch (PlanException e) {
      return Answer.CHANGED;
    }
    if (!hash(plan).equals(shown)) {
      return Answer.CHANGED;
    }
    return start(file.get(), plan);
  }

  private synchronized Answer start(Path file, Plan plan) throws IOException {
    Optional<Answer> no = refusal();
    if (no.isPresent()) {
      return no.get();
    }
    Path directory = FreeDirectory.claim(runs, plan.head().name());
    begin(directory, words -> runner.run(file, directory, words));
    return Answer.STARTED;
  }

  /**
   * Resumes a run that was interrupted, on the bench of this console.
   *
   * @param directory the run directory
   * @param service what was done at the bench after a bad sentinel; empty without one
   */
  Answer resume(Path directory, String service) throws IOException {
    try (RunFile file = RunFile.load(directory)) {
      if (file.finishedAt().isPresent()) {
        return Answer.FINISHED;
      }
      if (!FaultyBench.soundKind(file.header().bench().kind()).equals(kind)) {
        return Answer.OTHER_BENCH;
      }
      Protocol protocol = file.header().protocol();
      boolean waits = SentinelWatch.waiting(protocol, file.results(), file.notes()).isPresent();
      if (waits && service.isEmpty()) {
        return Answer.NO_SERVICE;
      }
    }
    if (RunFile.holder(directory).isPresent()) {
      return Answer.BUSY;
    }
    return goOn(directory, service);
  }

  private synchronized Answer goOn(Path directory, String service) {
    Optional<Answer> no = refusal();
    if (no.isPresent()) {
      return no.get();
    }
    begin(directory, words -> runner.resume(directory, service, words));
    return Answer.STARTED;
  }

  private Optional<Answer> refusal() {
    if (locked) {
      return Optional.of(Answer.LOCKED);
    }
    return leaving || !running.isEmpty() ? Optional.of(Answer.BUSY) : Optional.empty();
  }

  private void begin(Path directory, ToIntFunction<PrintWriter> campaign) {
    running = String.valueOf(directory.getFileName());
    said.clear();
    thread = new Thread(() -> run(directory, campaign), "campaign");
    thread.start();
  }

  private void run(Path directory, ToIntFunction<PrintWriter> campaign) {
    int code = Verdict.PROGRAM_FAILED;
    try (PrintWriter words = new PrintWriter(new Lines())) {
      code = campaign.applyAsInt(words);
    } finally {
      deleteIfEmpty(directory);
      ended(code);
    }
  }

  /**
   * Everything that {@code check} says of a plan: what is wrong with it, and what to know of it.
   */
  Map<String, Object> check(String name) throws IOException {
    List<String> mistakes = new ArrayList<>();
    List<String> advice = new ArrayList<>();
    Map<String, Object> all = new LinkedHashMap<>();
    Optional<Path> file = file(name);
    if (file.isEmpty()) {
      mistakes.add(Answer.UNKNOWN.text);
    } else {
      try {
        Plan plan = Plan.read(Source.of(file.get()), policies);
        PlanAdvice.of(plan, line -> advice.add(line.strip()));
        all.put("hash", hash(plan));
      } catch (PlanException e) {
        e.mistakes().forEach(mistake -> mistakes.add(mistake.toString()));
      }
    }
    all.put("mistakes", mistakes);
    all.put("advice", advice);
    return all;
  }

  private Optional<Path> file(String name) throws IOException {
    return files().stream().filter(f -> String.valueOf(f.getFileName()).equals(name)).findFirst();
  }

  /** A run that was refused leaves the directory that was claimed for it. */
  private static void deleteIfEmpty(Path directory) {
    try {
      Files.deleteIfExists(directory);
    } catch (IOException e) {
      // It holds a run.
    }
  }

  private synchronized void ended(int code) {
    last = running;
    running = "";
    lastCode = code;
    locked |= code == Verdict.SAFETY_STOP.exitCode();
  }

  /** Starts nothing more, and returns when nothing runs any more. */
  public void leave() {
    Thread waitFor;
    synchronized (this) {
      leaving = true;
      waitFor = thread;
    }
    boolean interrupted = false;
    while (waitFor != null && waitFor.isAlive()) {
      try {
        waitFor.join();
      } catch (InterruptedException e) {
        interrupted = true;
      }
    }
    if (interrupted) {
      Thread.currentThread().interrupt();
    }
  }

  private List<Map<String, Object>> plans() throws IOException {
    List<Map<String, Object>> all = new ArrayList<>();
    for (Path file : files()) {
      all.add(plan(file));
    }
    return all;
  }

  private List<Path> files() throws IOException {
    try (Stream<Path> children = Files.list(plans)) {
      return children
          .filter(f -> String.valueOf(f.getFileName()).matches(".*\\.ya?ml"))
          .filter(StartDesk::isPlan)
          .sorted()
          .toList();
    }
  }

  private static boolean isPlan(Path file) {
    try {
      return Source.of(file).isPlan();
    } catch (PlanException e) {
      return false;
    }
  }

  private Map<String, Object> plan(Path file) {
    Map<String, Object> one = new LinkedHashMap<>();
    one.put("file", String.valueOf(file.getFileName()));
    try {
      Plan plan = Plan.read(Source.of(file), policies);
      one.put("name", plan.head().name());
      one.put("purpose", plan.head().purpose());
      one.put("conditions", plan.plannedConditions().size());
      one.put("trials", plan.trials());
      one.put("hash", hash(plan));
    } catch (PlanException e) {
      int mistakes = e.mistakes().size();
      one.put("problem", mistakes + (mistakes == 1 ? " mistake" : " mistakes"));
    }
    return one;
  }

  /** Over plan and settings, word for word. */
  private static String hash(Plan plan) {
    return hash(plan.source().text() + '\0' + plan.settingsText());
  }

  /** Over a text. */
  static String hash(String text) {
    try {
      byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
      return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  private synchronized void say(String line) {
    said.add(line);
    if (said.size() > LINES) {
      said.remove(0);
    }
  }

  /** What the campaign says, line by line; the last lines are kept. */
  private final class Lines extends Writer {
    private final StringBuilder begun = new StringBuilder();

    @Override
    public void write(char[] text, int from, int count) {
      for (int i = from; i < from + count; i++) {
        if (text[i] == '\n') {
          say(begun.toString());
          begun.setLength(0);
        } else if (text[i] != '\r') {
          begun.append(text[i]);
        }
      }
    }

    @Override
    public void flush() {}

    @Override
    public void close() {
      if (begun.length() > 0) {
        say(begun.toString());
      }
    }
  }
}
