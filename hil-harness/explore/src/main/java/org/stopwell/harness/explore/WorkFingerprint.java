package org.stopwell.harness.explore;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** Whether two pieces of work are the same. */
public final class WorkFingerprint {
  private WorkFingerprint() {}

  /**
   * A hash of everything that a result depends on.
   *
   * @param all what the result depends on
   * @return SHA-256, lower-case hexadecimal
   */
  public static String of(CharSequence all) {
    try {
      return HexFormat.of()
          .formatHex(
              MessageDigest.getInstance("SHA-256")
                  .digest(all.toString().getBytes(StandardCharsets.UTF_8)));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }
}
