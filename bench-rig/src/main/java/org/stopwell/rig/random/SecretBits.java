package org.stopwell.rig.random;

import java.security.SecureRandom;

/** Random bits that nobody can compute again, for secrets. No trial depends on them. */
public final class SecretBits {
  private SecretBits() {}

  /**
   * Draws from the random numbers of the operating system.
   *
   * @param bytes how many bytes
   * @return fresh random bytes
   */
  public static byte[] draw(int bytes) {
    byte[] bits = new byte[bytes];
    new SecureRandom().nextBytes(bits);
    return bits;
  }
}
