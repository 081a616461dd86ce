package org.stopwell.harness.report;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * What the tests of this build found. A build that ran its tests carries their results with it,
 * together with the fingerprint of the program that they tested; results of another program count
 * for nothing.
 */
public final class TestRecord {
  /** Name of the results among the classes of this package. */
  public static final String RESOURCE = "tested.txt";

  /** The word for a test that passed. */
  public static final String PASSED = "passed";

  private TestRecord() {}

  /**
   * The results of the tests of the program that runs.
   *
   * @return a word by {@code Class#method}; empty when its tests did not run in its build
   */
  public static Map<String, String> ofThisBuild() {
    try (InputStream in = TestRecord.class.getResourceAsStream(RESOURCE)) {
      if (in == null) {
        return Map.of();
      }
      String text = new String(in.readAllBytes(), StandardCharsets.UTF_8);
      return read(text, ProgramHash.ofThisProgram());
    } catch (IOException e) {
      return Map.of();
    }
  }

  /**
   * Results as they were written.
   *
   * @param text a fingerprint, then one line per test
   * @param program the fingerprint of the program asked about
   * @return a word by {@code Class#method}; empty when they are of another program
   */
  public static Map<String, String> read(String text, String program) {
    List<String> lines = text.lines().toList();
    Map<String, String> results = new TreeMap<>();
    if (!lines.isEmpty() && lines.get(0).equals(program)) {
      for (String line : lines.subList(1, lines.size())) {
        int space = line.indexOf(' ');
        if (space > 0) {
          results.put(line.substring(0, space), line.substring(space + 1));
        }
      }
    }
    return results;
  }

  /**
   * Results as they are kept.
   *
   * @param program fingerprint of the program that was tested
   * @param results a word by {@code Class#method}
   * @return text that {@link #read} reads
   */
  public static String write(String program, Map<String, String> results) {
    StringBuilder text = new StringBuilder(program).append('\n');
    new TreeMap<>(results)
        .forEach((test, word) -> text.append(test).append(' ').append(word).append('\n'));
    return text.toString();
  }
}
