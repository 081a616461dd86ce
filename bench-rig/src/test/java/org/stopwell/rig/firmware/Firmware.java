package org.stopwell.rig.firmware;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.Objects;

/** The firmware, built by its own makefile into the target directory of the rig. */
public final class Firmware {
  private static final Path SOURCE = source();

  private static final Path OUT = SOURCE.resolveSibling(Path.of("target", "firmware"));

  private Firmware() {}

  /** Found from the module that runs, whichever it is: the harness tests with these too. */
  private static Path source() {
    Path house = Path.of("").toAbsolutePath();
    while (!Files.isDirectory(house.resolve("bench-rig"))) {
      house = Objects.requireNonNull(house.getParent(), "no bench-rig above this directory");
    }
    return house.resolve("bench-rig").resolve("firmware");
  }

  /** Makes some targets; what make and the compilers say is the message when it fails. */
  public static String make(String... targets) throws IOException, InterruptedException {
    Files.createDirectories(OUT);
    // Machines that test side by side make into one directory: one after the other.
    try (FileChannel file =
        FileChannel.open(
            OUT.resolve("make.lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE)) {
      FileLock lock = file.lock();
      try {
        return makeAlone(targets);
      } finally {
        lock.release();
      }
    }
  }

  private static String makeAlone(String... targets) throws IOException, InterruptedException {
    ProcessBuilder make = new ProcessBuilder("make", "-s", "-C", SOURCE.toString(), "OUT=" + OUT);
    make.command().addAll(List.of(targets));
    Process process;
    try {
      process = make.redirectErrorStream(true).start();
    } catch (IOException e) {
      throw new AssertionError("this test needs make, gcc, gcc-avr, avr-libc, libsimavr-dev", e);
    }
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    if (process.waitFor() != 0) {
      throw new AssertionError(
          "make failed; it needs gcc, gcc-avr, avr-libc and libsimavr-dev. It said:\n" + said);
    }
    return said;
  }

  static Path file(String name) {
    return OUT.resolve(name);
  }
}
