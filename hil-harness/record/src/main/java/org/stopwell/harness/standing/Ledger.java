package org.stopwell.harness.standing;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.rig.time.Utc;
import tools.jackson.core.JacksonException;
import tools.jackson.jr.ob.JSON;

/**
 * The ledger of frozen plans, beside the run directories: one line for each run when it begins and
 * one when it ends. Each line holds the SHA-256 of the line before it, so no line can be changed or
 * taken out alone. Lines are added under a file lock.
 */
public final class Ledger {
  /** Name of the file, in the directory that holds the run directories. */
  public static final String NAME = "ledger.jsonl";

  /** Largest ledger, bytes; assumed: some 100,000 runs. */
  private static final long MOST_BYTES = 64 << 20;

  private static final String BEGUN = "begun";
  private static final String ENDED = "ended";
  private static final String CUT = "cut off";

  private final Path directory;
  private final List<String> faults = new ArrayList<>();
  private final List<Line> lines = new ArrayList<>();

  /** One line, with its own hash. */
  private record Line(String hash, Map<String, Object> values) {
    String text(String key) {
      return values.get(key) instanceof String text ? text : "";
    }

    int number(String key) {
      return values.get(key) instanceof Number number ? number.intValue() : 0;
    }

    boolean isBegun() {
      return text("kind").equals(BEGUN);
    }
  }

  /**
   * How a run stands when its report is made.
   *
   * @param verdict its verdict
   * @param run trials that were run
   * @param planned trials of the plan
   * @param fingerprint newest hash of the run file's chain
   * @param finished whether the campaign is finished
   */
  public record State(String verdict, int run, int planned, String fingerprint, boolean finished) {}

  private Ledger(Path run) {
    this.directory =
        Objects.requireNonNullElse(run.toAbsolutePath().normalize().getParent(), Path.of("/"));
  }

  private Path file() {
    return directory.resolve(NAME);
  }

  /**
   * Enters a run before its first trial.
   *
   * @param run its run directory
   * @param plan name of the plan
   * @param startedAt when it begins
   * @param frozen what it runs under
   * @return the same with the number of the run under this frozen plan; unchanged for a plan that
   *     is not frozen
   * @throws IOException when the ledger cannot be written
   */
  public static Registration begin(Path run, String plan, String startedAt, Registration frozen)
      throws IOException {
    if (!frozen.isFrozen()) {
      return frozen;
    }
    Map<String, Object> values = new LinkedHashMap<>();
    values.put("kind", BEGUN);
    values.put("at", startedAt);
    values.put("frozen", frozen.sha256());
    values.put("plan", plan);
    values.put("run", name(run));
    values.put("deviations", frozen.deviations().size());
    Ledger ledger = new Ledger(run);
    String hash;
    try {
      hash = ledger.append(values, /* once= */ false);
    } catch (IOException e) {
      throw RunFileException.notBegun(ledger.file(), e);
    }
    long number =
        ledger.lines.stream()
            .filter(l -> l.isBegun() && l.text("frozen").equals(frozen.sha256()))
            .count();
    return frozen.entered((int) number, hash);
  }

  /**
   * Enters how a run stands, once, and keeps what the ledger says of the others.
   *
   * @param run its run directory
   * @param header its header
   * @param state how it stands
   * @return what the report says of it
   * @throws IOException when the run directory cannot be written
   */
  public static LedgerView update(Path run, RunHeader header, State state) throws IOException {
    Registration frozen = header.registration();
    if (frozen.number() == 0) {
      return LedgerView.kept(run, header);
    }
    Ledger ledger = new Ledger(run);
    ledger.read();
    List<String> faults = new ArrayList<>();
    if (ledger.names(frozen)) {
      Map<String, Object> values = new LinkedHashMap<>();
      values.put("kind", state.finished() ? ENDED : CUT);
      values.put("at", Utc.now());
      values.put("of", frozen.ledger());
      values.put("verdict", state.verdict());
      values.put("run", state.run());
      values.put("planned", state.planned());
      values.put("fingerprint", state.fingerprint());
      try {
        ledger.append(values, /* once= */ true);
      } catch (IOException e) {
        faults.add(
            "The end of this run is not in the ledger: " + ledger.file() + " cannot be written.");
      }
    }
    LedgerView view = ledger.view(header, faults).orKept(LedgerView.kept(run, header));
    view.keep(run);
    return view;
  }

  /**
   * What the ledger beside a run says now.
   *
   * @param run the run directory
   * @param header its header
   * @return the other runs and every fault
   */
  public static LedgerView look(Path run, RunHeader header) {
    Ledger ledger = new Ledger(run);
    ledger.read();
    return ledger.view(header, List.of());
  }

  /**
   * Whether there is a ledger beside a run.
   *
   * @param run the run directory
   * @return true when the file is there
   */
  public static boolean isBeside(Path run) {
    return Files.exists(new Ledger(run).file());
  }

  private static String name(Path run) {
    return String.valueOf(run.toAbsolutePath().normalize().getFileName());
  }

  private boolean names(Registration frozen) {
    return lines.stream().anyMatch(l -> l.isBegun() && l.hash().equals(frozen.ledger()));
  }

  private LedgerView view(RunHeader header, List<String> more) {
    Registration frozen = header.registration();
    List<String> all = new ArrayList<>(faults);
    if (faults.isEmpty() && !names(frozen)) {
      all.add("The ledger " + NAME + " beside the run does not name this run.");
    }
    all.addAll(more);
    List<LedgerView.Other> others = new ArrayList<>();
    int number = 0;
    int elsewhere = 0;
    for (int i = 0; i < lines.size(); i++) {
      Line line = lines.get(i);
      if (!line.isBegun()) {
        continue;
      }
      if (!line.text("frozen").equals(frozen.sha256())) {
        elsewhere += line.text("plan").equals(header.planName()) ? 1 : 0;
        continue;
      }
      number++;
      if (!line.hash().equals(frozen.ledger())) {
        others.add(new LedgerView.Other(number, line.text("run"), fate(line, i)));
      }
    }
    return new LedgerView(frozen.number(), others, all, elsewhere);
  }

  /** What became of the run that a line began. */
  private String fate(Line begun, int at) {
    String end = "never ended";
    for (Line line : lines.subList(at + 1, lines.size())) {
      if (line.text("of").equals(begun.hash())) {
        end =
            line.text("kind").equals(ENDED)
                ? line.text("verdict")
                : CUT
                    + " after "
                    + line.number("run")
                    + " of "
                    + line.number("planned")
                    + " trials";
      }
    }
    int deviations = begun.number("deviations");
    // A later run of the same name that never ended can have been refused at its start.
    boolean replaced =
        lines.subList(at + 1, lines.size()).stream()
            .filter(l -> l.isBegun() && l.text("run").equals(begun.text("run")))
            .anyMatch(l -> lines.stream().anyMatch(e -> e.text("of").equals(l.hash())));
    boolean gone = replaced || !holdsRun(begun.text("run"));
    return end
        + (deviations == 0
            ? ""
            : ", " + deviations + (deviations == 1 ? " deviation" : " deviations"))
        + (gone ? ", directory gone" : "");
  }

  private boolean holdsRun(String name) {
    try {
      return Files.exists(directory.resolve(name).resolve(RunFile.NAME));
    } catch (java.nio.file.InvalidPathException e) {
      return false;
    }
  }

  /** Reads every line; what is wrong is a fault. */
  private void read() {
    lines.clear();
    faults.clear();
    Path file = file();
    try {
      if (!Files.exists(file)) {
        faults.add("The ledger " + NAME + " beside the run is missing.");
      } else if (!Files.isRegularFile(file)) {
        faults.add("The ledger " + NAME + " beside the run is not a regular file.");
      } else if (Files.size(file) > MOST_BYTES) {
        faults.add("The ledger " + NAME + " is larger than " + MOST_BYTES + " bytes.");
      } else {
        parse(new String(Files.readAllBytes(file), StandardCharsets.UTF_8));
      }
    } catch (IOException e) {
      faults.add("The ledger " + NAME + " beside the run cannot be read.");
    }
  }

  private void parse(String text) {
    String before = "";
    int number = 0;
    // An end without a line end was never acknowledged: the power failed while it was written.
    for (String line : text.substring(0, text.lastIndexOf('\n') + 1).lines().toList()) {
      number++;
      String hash = sha256(line);
      Map<String, Object> values = Map.of();
      try {
        values = JSON.std.mapFrom(line);
      } catch (JacksonException e) {
        faults.add("The ledger is broken: " + NAME + ":" + number + " is not an entry.");
      }
      if (!Objects.equals(values.get("before"), before)) {
        faults.add(
            "The ledger is broken: "
                + NAME
                + ":"
                + number
                + " does not follow from the line before it.");
      }
      before = hash;
      lines.add(new Line(hash, values));
    }
    if (faults.size() > 1) {
      faults.subList(1, faults.size()).clear();
    }
  }

  /** Adds a line under the lock and returns its hash. */
  private String append(Map<String, Object> values, boolean once) throws IOException {
    Files.createDirectories(directory);
    Path file = file();
    if (Files.exists(file) && !Files.isRegularFile(file)) {
      throw new IOException("not a regular file");
    }
    // A lock of the system is held by the whole program, so its threads take turns here.
    synchronized (Ledger.class) {
      try (FileChannel channel =
          FileChannel.open(
              file, StandardOpenOption.CREATE, StandardOpenOption.READ, StandardOpenOption.WRITE)) {
        channel.lock();
        if (channel.size() > MOST_BYTES) {
          throw new IOException("larger than " + MOST_BYTES + " bytes");
        }
        ByteBuffer bytes = ByteBuffer.allocate((int) channel.size());
        int got = 0;
        while (got >= 0 && bytes.hasRemaining()) {
          got = channel.read(bytes, bytes.position());
        }
        String text = new String(bytes.array(), 0, bytes.position(), StandardCharsets.UTF_8);
        lines.clear();
        faults.clear();
        parse(text);
        if (once && isThere(values)) {
          return "";
        }
        Map<String, Object> all = new LinkedHashMap<>();
        all.put("before", lines.isEmpty() ? "" : lines.get(lines.size() - 1).hash());
        all.putAll(values);
        String line = JSON.std.asString(all);
        int whole = 0;
        for (int i = 0; i < bytes.position(); i++) {
          whole = bytes.get(i) == '\n' ? i + 1 : whole;
        }
        channel.truncate(whole);
        ByteBuffer out = ByteBuffer.wrap((line + "\n").getBytes(StandardCharsets.UTF_8));
        for (long at = whole; out.hasRemaining(); ) {
          at += channel.write(out, at);
        }
        channel.force(true);
        lines.add(new Line(sha256(line), all));
        return sha256(line);
      }
    }
  }

  /** Whether the newest line of a run says the same. */
  private boolean isThere(Map<String, Object> values) {
    Line newest = null;
    for (Line line : lines) {
      newest = line.text("of").equals(values.get("of")) ? line : newest;
    }
    return newest != null
        && newest.text("kind").equals(values.get("kind"))
        && newest.text("fingerprint").equals(values.get("fingerprint"));
  }

  private static String sha256(String text) {
    try {
      return HexFormat.of()
          .formatHex(
              MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8)));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}
