package org.stopwell.mutation;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.nio.ByteBuffer;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;

/** The place of a mutant in a random order that a seed fixes. */
final class Draw {
  private Draw() {}

  /**
   * A number that says how early a mutant is drawn: the mutants with the smallest numbers are the
   * sample. It depends on the seed and on the mutant alone.
   *
   * @param seed seed of the sample
   * @param type class of the mutant
   * @param method its method with descriptor
   * @param change what is changed there, and at which instruction
   * @return even between 0 and 1
   */
  static double of(String seed, String type, String method, String change) {
    try {
      byte[] hash =
          MessageDigest.getInstance("SHA-256")
              .digest(String.join(" ", seed, type, method, change).getBytes(UTF_8));
      return (ByteBuffer.wrap(hash).getLong() >>> 11) * 0x1p-53;
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }
}
