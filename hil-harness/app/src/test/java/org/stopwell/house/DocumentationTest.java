package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import javax.tools.Diagnostic;
import javax.tools.DiagnosticCollector;
import javax.tools.DocumentationTool;
import javax.tools.JavaFileObject;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Every exported public element is documented and every comment is well formed: javadoc with all of
 * doclint, where a warning counts as an error.
 *
 * <p>Two kinds of warning are left out (JDK 17 to 21). A compact constructor takes its parameters
 * from the record, which documents them, but doclint asks for them again; and it asks for the
 * private fields of every exception, since those can be serialized.
 */
class DocumentationTest {
  private static final String TEMPLATES = "target/generated-sources/jte";

  @TempDir Path pages;

  @Test
  void everyPublicElementIsDocumented() throws IOException {
    DocumentationTool tool = ToolProvider.getSystemDocumentationTool();
    DiagnosticCollector<JavaFileObject> found = new DiagnosticCollector<>();
    List<String> options = new ArrayList<>();
    for (Map.Entry<String, Path> module : Tree.modules().entrySet()) {
      Collections.addAll(options, "--module", module.getKey());
      Collections.addAll(
          options, "--module-source-path", module.getKey() + "=" + sources(module.getValue()));
    }
    Collections.addAll(options, "--module-path", libraries());
    Collections.addAll(options, "--show-packages", "exported", "-public", "-quiet");
    Collections.addAll(options, "-encoding", "UTF-8");
    Collections.addAll(options, "-Xdoclint:all", "-Xmaxwarns", "1000", "-d", pages.toString());
    boolean done = tool.getTask(null, null, found, null, options, null).call();

    List<String> complaints = new ArrayList<>();
    for (Diagnostic<? extends JavaFileObject> diagnostic : found.getDiagnostics()) {
      if (!asksTooMuch(diagnostic)) {
        complaints.add(diagnostic.toString());
      }
    }
    assertEquals("", String.join("\n", complaints));
    assertEquals(true, done);
  }

  /** What people wrote, and the classes that the build makes of templates. */
  private static String sources(Path module) {
    Path templates = module.resolve(TEMPLATES);
    return module.resolve("src/main/java")
        + (Files.isDirectory(templates) ? File.pathSeparator + templates : "");
  }

  private static boolean asksTooMuch(Diagnostic<? extends JavaFileObject> diagnostic)
      throws IOException {
    if (diagnostic.getSource() == null) {
      return diagnostic.getKind() == Diagnostic.Kind.NOTE;
    }
    if (Path.of(diagnostic.getSource().toUri()).toString().contains(TEMPLATES)) {
      return true;
    }
    String message = diagnostic.getMessage(Locale.ROOT);
    List<String> lines = Files.readAllLines(Path.of(diagnostic.getSource().toUri()));
    String line = lines.get((int) diagnostic.getLineNumber() - 1);
    return (message.contains("no @param for") && line.matches("\\s*public \\w+ \\{"))
        || (message.contains("no comment")
            && (line.matches("\\s*private .*") || isComponent(lines, diagnostic)));
  }

  /** A component of a record that can be serialized is a private field, too. */
  private static boolean isComponent(List<String> lines, Diagnostic<?> diagnostic) {
    int line = (int) diagnostic.getLineNumber() - 1;
    int column = (int) diagnostic.getColumnNumber() - 1;
    String before = lines.get(line).substring(0, column);
    while (line > 0 && !before.matches("(?s).*[;{}].*") && !before.contains(" record ")) {
      line--;
      before = lines.get(line) + '\n' + before;
    }
    return before.matches("(?s).* record \\w+\\([^;{}]*");
  }

  /**
   * The class path of this test as a module path; jars of the fuzzer and of the test helpers share
   * packages and so cannot be modules.
   */
  private static String libraries() {
    return Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator, -1))
        .filter(entry -> !entry.contains("jazzer"))
        .filter(entry -> !entry.endsWith("-tests.jar"))
        .collect(Collectors.joining(File.pathSeparator));
  }
}
