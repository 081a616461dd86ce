package org.stopwell.harness.cli;

import java.io.IOException;
import tools.jackson.jr.ob.JSON;

/** Results for machines, the same way from every command. */
final class Json {
  private Json() {}

  /** Maps, lists, text and numbers as JSON, a value a line. */
  static String text(Object values) throws IOException {
    return JSON.std.with(JSON.Feature.PRETTY_PRINT_OUTPUT).asString(values);
  }
}
