package org.stopwell.harness.chip;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** QEMU with an image, and the serial port of the chip as a pseudo-terminal. */
final class EmulatedChip implements AutoCloseable {
  private static final Pattern PORT = Pattern.compile("/dev/pts/\\d+");

  private final Process emulator;
  private final String port;

  EmulatedChip(Chip chip, Path image) throws IOException {
    emulator =
        new ProcessBuilder(
                "qemu-system-arm",
                "-M",
                chip.machine,
                "-display",
                "none",
                "-monitor",
                "none",
                "-icount",
                "shift=3,sleep=off",
                "-serial",
                "pty",
                "-kernel",
                image.toString())
            .redirectErrorStream(true)
            .start();
    BufferedReader said =
        new BufferedReader(
            new InputStreamReader(emulator.getInputStream(), StandardCharsets.UTF_8));
    String line = said.readLine();
    Matcher found = PORT.matcher(line == null ? "" : line);
    if (!found.find()) {
      emulator.destroyForcibly();
      throw new AssertionError("QEMU names no port: " + line);
    }
    port = found.group();
  }

  String port() {
    return port;
  }

  /** Cuts the line: the port goes away. */
  void cut() {
    emulator.destroyForcibly();
    try {
      emulator.waitFor();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  @Override
  public void close() {
    cut();
  }
}
