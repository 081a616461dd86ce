package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.util.function.Consumer;
import picocli.CommandLine.Option;

/** Whether a result is for a machine. */
final class JsonOption {
  @Option(names = "--json", description = "Print the result as JSON.")
  boolean wanted;

  /** Prints the values, or else the lines for people. */
  void print(PrintWriter out, Object values, Consumer<Consumer<String>> lines) throws IOException {
    if (wanted) {
      out.println(Json.text(values));
    } else {
      lines.accept(out::println);
    }
  }
}
