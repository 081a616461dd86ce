package org.stopwell.harness.report;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.RunFile;
import tools.jackson.core.JacksonException;
import tools.jackson.jr.ob.JSON;

/** Compares the report and the JUnit file of a run directory with the run file. */
public final class ReportCheck {
  private static final Pattern PAGE_FINGERPRINT =
      Pattern.compile("<dt>" + ReportPage.FINGERPRINT + "</dt>\\s*<dd>([0-9a-f]{64})</dd>");
  private static final Pattern PAGE_VERDICT = Pattern.compile("<div class=\"verdict ([A-Z_]+)\">");
  private static final Pattern PAGE_DATA =
      Pattern.compile(
          "<script type=\"application/json\" id=\"trials\">(.*?)</script>", Pattern.DOTALL);
  private static final Pattern JUNIT_FINGERPRINT = property(JUnitFile.FINGERPRINT);
  private static final Pattern JUNIT_VERDICT = property(JUnitFile.VERDICT);
  private static final Pattern JUNIT_COUNTS = Pattern.compile("<testsuites ([^>]*)>");

  /** A file may be so much larger than the one that this build makes, assumed. */
  private static final int LARGER = 10;

  /** How a file agrees with the run file. */
  public enum Outcome {
    /** It is what this build makes of the run file, byte for byte. */
    SAME,
    /** Another build made it; what can be compared agrees. */
    OTHER_BUILD,
    /** There is no such file. */
    MISSING,
    /** It does not belong to the run file. */
    DIFFERENT
  }

  /**
   * What was found out about one file.
   *
   * @param file its name
   * @param outcome how it agrees
   * @param text the same in plain words, with what to do
   */
  public record Finding(String file, Outcome outcome, String text) {}

  private ReportCheck() {}

  /**
   * The hash of a file, which a signature of the report is about.
   *
   * @param file the file
   * @return SHA-256 of its bytes, 64 hexadecimal digits
   * @throws IOException when it cannot be read
   */
  public static String sha256(Path file) throws IOException {
    try {
      return HexFormat.of()
          .formatHex(MessageDigest.getInstance("SHA-256").digest(Files.readAllBytes(file)));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  /**
   * Compares both files.
   *
   * @param run the run file, found whole
   * @param directory the run directory
   * @param sameBuild whether this build ran the campaign
   * @return one finding for each file
   * @throws IOException when a file cannot be read
   */
  public static List<Finding> of(RunFile run, Path directory, boolean sameBuild)
      throws IOException {
    // Before the present version of the run file a report had no fingerprint.
    boolean old = !run.uncovered().isEmpty();
    List<Finding> findings = new ArrayList<>();
    for (Map.Entry<String, String> made :
        RunReport.files(run, Evidence.of(run, directory), directory).entrySet()) {
      findings.add(of(directory, made.getKey(), made.getValue(), run.headHash(), sameBuild, old));
    }
    return findings;
  }

  private static Finding of(
      Path directory, String name, String made, String head, boolean sameBuild, boolean old)
      throws IOException {
    Path file = directory.resolve(name);
    String again = ". Make it again with: stopwell report " + directory;
    if (!Files.exists(file)) {
      return new Finding(name, Outcome.MISSING, name + " is missing and was not compared" + again);
    }
    byte[] bytes = made.getBytes(StandardCharsets.UTF_8);
    if (!Files.isRegularFile(file) || Files.size(file) / LARGER > bytes.length) {
      return different(name, "is no report of this run", again);
    }
    byte[] there = Files.readAllBytes(file);
    if (java.util.Arrays.equals(there, bytes)) {
      return new Finding(name, Outcome.SAME, name + " is what this run file gives, byte for byte");
    }
    String text = new String(there, StandardCharsets.UTF_8);
    boolean page = name.equals(RunReport.PAGE);
    List<String> fingerprints = all(page ? PAGE_FINGERPRINT : JUNIT_FINGERPRINT, text);
    if (!fingerprints.equals(List.of(head)) && !(old && fingerprints.isEmpty())) {
      return different(
          name,
          fingerprints.isEmpty()
              ? "has no fingerprint, the run file has " + head
              : "has the fingerprint " + fingerprints.get(0) + ", the run file has " + head,
          again);
    }
    List<String> verdicts = all(page ? PAGE_VERDICT : JUNIT_VERDICT, text);
    List<String> verdict = all(page ? PAGE_VERDICT : JUNIT_VERDICT, made);
    if (!verdicts.equals(verdict) && !(old && !page && verdicts.isEmpty())) {
      return different(
          name,
          "states " + String.join(", ", verdicts) + ", the run file gives " + verdict.get(0),
          again);
    }
    String differing = page ? differingData(text, made) : differingCounts(text, made);
    if (!differing.isEmpty()) {
      return different(name, "has other data than the run file: " + differing, again);
    }
    if (sameBuild && !old) {
      return different(
          name,
          "is not what this build makes of the run file; it was changed, or another build made it",
          again);
    }
    List<String> equal = new ArrayList<>();
    if (!fingerprints.isEmpty()) {
      equal.add("fingerprint");
    }
    if (!verdicts.isEmpty()) {
      equal.add("verdict");
    }
    equal.add(page ? "data" : "number of cases");
    return new Finding(
        name,
        Outcome.OTHER_BUILD,
        name
            + " was made by another build; equal to the run file: "
            + String.join(", ", equal)
            + "; not compared: its words"
            + again);
  }

  private static Finding different(String name, String what, String again) {
    return new Finding(name, Outcome.DIFFERENT, name + " " + what + again);
  }

  /** The name of the first part of the data that differs; two builds may keep different parts. */
  private static String differingData(String text, String made) {
    try {
      Map<String, Object> there = JSON.std.mapFrom(String.join("", all(PAGE_DATA, text)));
      Map<String, Object> here = JSON.std.mapFrom(String.join("", all(PAGE_DATA, made)));
      for (Map.Entry<String, Object> part : here.entrySet()) {
        if (there.containsKey(part.getKey())
            && !Objects.equals(there.get(part.getKey()), part.getValue())) {
          return part.getKey();
        }
      }
      return there.keySet().stream().noneMatch(here::containsKey) ? "none to compare" : "";
    } catch (JacksonException e) {
      return "not readable";
    }
  }

  private static String differingCounts(String text, String made) {
    return all(JUNIT_COUNTS, text).equals(all(JUNIT_COUNTS, made)) ? "" : "number of cases";
  }

  /** Every distinct finding of a pattern. */
  private static List<String> all(Pattern pattern, String text) {
    TreeSet<String> found = new TreeSet<>();
    Matcher matcher = pattern.matcher(text);
    while (matcher.find()) {
      found.add(matcher.group(1));
    }
    return List.copyOf(found);
  }

  private static Pattern property(String name) {
    return Pattern.compile("<property name=\"" + name + "\" value=\"([0-9A-Za-z_]+)\"/>");
  }
}
