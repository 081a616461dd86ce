package org.stopwell.rig.firmware;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;

/** The firmware, built by its own makefile into this module's target directory. */
public final class Firmware {
  private static final Path OUT = Path.of("target", "firmware").toAbsolutePath();

  private Firmware() {}

  /** Makes some targets; what make and the compilers say is the message when it fails. */
  public static String make(String... targets) throws IOException, InterruptedException {
    ProcessBuilder make = new ProcessBuilder("make", "-s", "-C", "firmware", "OUT=" + OUT);
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
