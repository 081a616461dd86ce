package org.stopwell.rig.pi;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;

/**
 * The number under which the kernel lists a PWM chip. It differs from kernel to kernel: 6.12 moved
 * the one of the Pi 5 (github.com/raspberrypi/linux issue 6818). The device behind it does not.
 */
final class PwmChip {
  private static final String PREFIX = "pwmchip";

  private PwmChip() {}

  static int find(Path chips, String device) throws BenchException {
    try (DirectoryStream<Path> listed = Files.newDirectoryStream(chips, PREFIX + "*")) {
      for (Path chip : listed) {
        Path link = chip.resolve("device");
        if (Files.exists(link) && link.toRealPath().endsWith(device)) {
          return Integer.parseInt(String.valueOf(chip.getFileName()).substring(PREFIX.length()));
        }
      }
    } catch (IOException e) {
      throw missing(chips, device, e);
    }
    throw missing(chips, device, null);
  }

  private static BenchException missing(Path chips, String device, @Nullable Throwable cause) {
    String message = chips + ": no PWM chip " + device + "; add the pwm overlay to config.txt";
    return cause == null
        ? new BenchException(RigFault.PORT_MISSING, message)
        : new BenchException(RigFault.PORT_MISSING, message, cause);
  }
}
