package org.stopwell.harness.cli;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.stopwell.harness.input.InputFile;

/** A file that an option names and a command writes. */
final class TextFile {
  private TextFile() {}

  /** What is written into a file. */
  interface Text {
    void to(Writer writer) throws IOException;
  }

  /** Writes a file; where that is not possible, the message names the option. */
  static void write(String option, Path target, Text text) throws UsageException {
    try (BufferedWriter writer = Files.newBufferedWriter(target, StandardCharsets.UTF_8)) {
      text.to(writer);
    } catch (IOException e) {
      throw new UsageException(
          option + " " + target + ": cannot be written: " + InputFile.reason(e));
    }
  }
}
