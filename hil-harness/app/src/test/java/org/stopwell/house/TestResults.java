package org.stopwell.house;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.platform.engine.TestExecutionResult;
import org.junit.platform.engine.support.descriptor.MethodSource;
import org.junit.platform.launcher.TestExecutionListener;
import org.junit.platform.launcher.TestIdentifier;
import org.junit.platform.launcher.TestPlan;
import org.stopwell.harness.report.ProgramHash;
import org.stopwell.harness.report.TestRecord;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/**
 * Puts the results of the tests where the build finds them: those of this module as they end, those
 * of the modules below from their reports, where these are of the classes that are there now.
 */
public final class TestResults implements TestExecutionListener {
  private static final Path CLASSES =
      Path.of("..", "report", "target", "classes", "org", "stopwell", "harness", "report");
  private static final Path RESULTS = CLASSES.resolve(TestRecord.RESOURCE);
  private static final List<String> BELOW =
      List.of(
          "../controller-core",
          "../bench-rig",
          "stats",
          "trial",
          "record",
          "campaign",
          "report",
          "assess");

  private final Map<String, String> results = new ConcurrentHashMap<>();

  @Override
  public void executionFinished(TestIdentifier test, TestExecutionResult result) {
    if (test.isTest() && test.getSource().orElse(null) instanceof MethodSource method) {
      String word =
          result.getStatus() == TestExecutionResult.Status.SUCCESSFUL
              ? TestRecord.PASSED
              : "failed";
      add(results, simple(method.getClassName()) + "#" + method.getMethodName(), word);
    }
  }

  @Override
  public void testPlanExecutionFinished(TestPlan plan) {
    if (!Files.isDirectory(CLASSES)) {
      return;
    }
    try {
      String program = ProgramHash.ofThisProgram();
      Map<String, String> all = new TreeMap<>();
      if (Files.exists(RESULTS)) {
        all.putAll(TestRecord.read(Files.readString(RESULTS), program));
      }
      for (String module : BELOW) {
        all.putAll(below(Path.of("..", module, "target")));
      }
      all.putAll(results);
      Files.writeString(RESULTS, TestRecord.write(program, all));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Results from the reports of a module, those that are not older than its classes. */
  static Map<String, String> below(Path target) throws IOException {
    Map<String, String> results = new TreeMap<>();
    Path reports = target.resolve("surefire-reports");
    if (!Files.isDirectory(reports)) {
      return results;
    }
    long newest = 0;
    try (Stream<Path> classes = Files.walk(target.resolve("classes"))) {
      for (Path file : classes.filter(f -> f.toString().endsWith(".class")).toList()) {
        newest = Math.max(newest, Files.getLastModifiedTime(file).toMillis());
      }
    }
    try (Stream<Path> files = Files.list(reports)) {
      for (Path file : files.filter(f -> f.toString().endsWith(".xml")).toList()) {
        if (Files.getLastModifiedTime(file).toMillis() >= newest) {
          read(file, results);
        }
      }
    }
    return results;
  }

  private static void read(Path file, Map<String, String> results) throws IOException {
    NodeList cases = parse(file).getElementsByTagName("testcase");
    for (int i = 0; i < cases.getLength(); i++) {
      Element test = (Element) cases.item(i);
      boolean bad =
          test.getElementsByTagName("failure").getLength()
                  + test.getElementsByTagName("error").getLength()
              > 0;
      boolean skipped = test.getElementsByTagName("skipped").getLength() > 0;
      String method = test.getAttribute("name").split("[^\\w]", 2)[0];
      add(
          results,
          simple(test.getAttribute("classname")) + "#" + method,
          bad ? "failed" : skipped ? "skipped" : TestRecord.PASSED);
    }
  }

  private static Document parse(Path file) throws IOException {
    try {
      return DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(file.toFile());
    } catch (javax.xml.parsers.ParserConfigurationException | org.xml.sax.SAXException e) {
      throw new IOException(file + ": " + e.getMessage(), e);
    }
  }

  /** A test of many cases passed when each of them did. */
  private static void add(Map<String, String> results, String test, String word) {
    results.merge(test, word, (a, b) -> a.equals(TestRecord.PASSED) ? b : a);
  }

  private static String simple(String type) {
    String last = type.substring(type.lastIndexOf('.') + 1);
    return last.substring(last.lastIndexOf('$') + 1);
  }
}
