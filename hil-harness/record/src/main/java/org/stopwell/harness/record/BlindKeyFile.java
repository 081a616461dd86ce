package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Optional;
import java.util.Set;
import org.stopwell.harness.input.InputFile;
import org.stopwell.harness.protocol.BlindKey;
import org.stopwell.harness.record.RunFileException.Kind;

/** The key of a blinded run: a file apart from the run file, readable by its owner only. */
public final class BlindKeyFile {
  /** Name of the file in the run directory. */
  public static final String NAME = "blinding.key";

  /** A key with many levels is far smaller, bytes. */
  private static final int LONGEST = 1_000_000;

  private BlindKeyFile() {}

  /**
   * Writes the key of a new run; it is on the disk when the method returns.
   *
   * @param directory the run directory
   * @param key the key
   * @throws RunFileException when there is one or the disk refuses
   */
  public static void write(Path directory, BlindKey key) throws RunFileException {
    Path file = directory.resolve(NAME);
    boolean posix = FileSystems.getDefault().supportedFileAttributeViews().contains("posix");
    FileAttribute<?>[] owner =
        posix
            ? new FileAttribute<?>[] {
              PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------"))
            }
            : new FileAttribute<?>[0];
    try (FileChannel out =
        FileChannel.open(
            file, Set.of(StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE), owner)) {
      ByteBuffer bytes = ByteBuffer.wrap(key.text().getBytes(StandardCharsets.UTF_8));
      while (bytes.hasRemaining()) {
        out.write(bytes);
      }
      out.force(true);
    } catch (IOException e) {
      throw new RunFileException(Kind.DISK, file + ": cannot be written: " + e.getMessage(), e);
    }
  }

  /**
   * Reads the key of a run.
   *
   * @param directory the run directory
   * @param commitment what the run file keeps of the key
   * @return the key
   * @throws RunFileException when it is missing or the key of another run
   */
  public static BlindKey read(Path directory, String commitment) throws RunFileException {
    Path file = directory.resolve(NAME);
    if (!Files.exists(file)) {
      throw new RunFileException(
          Kind.MISSING,
          file
              + ": missing; the run is blinded, and only this file says which code is which level."
              + " Put the file back, then repeat the command");
    }
    return checked(file, text(file), commitment);
  }

  /** What stands in a file with a key. */
  static String text(Path file) throws RunFileException {
    try {
      Optional<String> fault = InputFile.fault(file, LONGEST);
      if (fault.isPresent()) {
        throw new RunFileException(Kind.FOREIGN, file + ": " + fault.get());
      }
      return Files.readString(file, StandardCharsets.UTF_8);
    } catch (RunFileException e) {
      throw e;
    } catch (IOException e) {
      throw new RunFileException(Kind.DISK, file + ": cannot be read: " + InputFile.reason(e), e);
    }
  }

  static BlindKey checked(Path file, String text, String commitment) throws RunFileException {
    try {
      BlindKey key = BlindKey.read(text);
      if (key.commitment().equals(commitment)) {
        return key;
      }
      throw new RunFileException(
          Kind.FOREIGN,
          file
              + ": not the key of this run: its SHA-256 is "
              + key.commitment()
              + ", the run file holds "
              + commitment);
    } catch (IllegalArgumentException e) {
      throw new RunFileException(Kind.FOREIGN, file + ": " + e.getMessage(), e);
    }
  }
}
