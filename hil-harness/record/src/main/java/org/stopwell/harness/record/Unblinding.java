package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Optional;
import org.stopwell.harness.protocol.Blinding;

/**
 * Records that and when a run was unblinded: a file beside the closed run file. It is written once
 * and never withdrawn.
 */
public final class Unblinding {
  /** Name of the file in the run directory. */
  public static final String NAME = "unblinded.txt";

  private Unblinding() {}

  /**
   * Whether a run was unblinded.
   *
   * @param directory its run directory
   * @return true from the first unblinding on
   */
  public static boolean isDone(Path directory) {
    return Files.exists(directory.resolve(NAME));
  }

  /**
   * The text written when the run was unblinded.
   *
   * @param directory its run directory
   * @return the first line of the file, empty while blinded
   * @throws IOException when it cannot be read
   */
  public static Optional<String> said(Path directory) throws IOException {
    return isDone(directory)
        ? Files.readString(directory.resolve(NAME), StandardCharsets.UTF_8).lines().findFirst()
        : Optional.empty();
  }

  /**
   * Unblinds a run.
   *
   * @param directory its run directory
   * @param at date and time, as the caller writes it
   * @param headHash newest hash of the run file's chain
   * @param blinding the key
   * @throws IOException when it was unblinded before or the disk refuses
   */
  public static void write(Path directory, String at, String headHash, Blinding blinding)
      throws IOException {
    StringBuilder text = new StringBuilder();
    text.append("Unblinded ").append(at).append(", run file at ").append(headHash).append('\n');
    blinding
        .codes()
        .forEach(
            (level, code) ->
                text.append(code)
                    .append(" = ")
                    .append(blinding.factor())
                    .append(' ')
                    .append(level)
                    .append('\n'));
    Files.writeString(
        directory.resolve(NAME),
        text.toString(),
        StandardOpenOption.CREATE_NEW,
        StandardOpenOption.WRITE);
  }
}
