package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Optional;
import org.stopwell.harness.protocol.BlindKey;

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
        ? BlindKeyFile.text(directory.resolve(NAME)).lines().findFirst()
        : Optional.empty();
  }

  /**
   * Unblinds a run; the file is whole or not there.
   *
   * @param directory its run directory
   * @param at date and time, as the caller writes it
   * @param headHash newest hash of the run file's chain
   * @param names what the codes stand for: the text of the key, or lines of an older run file
   * @throws IOException when the disk refuses
   */
  public static void write(Path directory, String at, String headHash, String names)
      throws IOException {
    Path file = directory.resolve(NAME);
    Path aside = directory.resolve(NAME + ".new");
    Files.writeString(aside, "Unblinded " + at + ", run file at " + headHash + "\n" + names);
    Files.move(aside, file, StandardCopyOption.ATOMIC_MOVE);
  }

  /**
   * The key that the run was unblinded with.
   *
   * @param directory its run directory
   * @param commitment what the run file keeps of the key
   * @return the key
   * @throws RunFileException when it is another key or cannot be read
   */
  public static BlindKey key(Path directory, String commitment) throws RunFileException {
    Path file = directory.resolve(NAME);
    String text = BlindKeyFile.text(file);
    return BlindKeyFile.checked(file, text.substring(text.indexOf('\n') + 1), commitment);
  }
}
