package org.stopwell.harness.sign;

import java.io.IOException;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.MessageDigest;
import java.security.PublicKey;
import java.security.Signature;
import java.security.spec.X509EncodedKeySpec;
import java.util.HexFormat;

/**
 * The public half of a key: whoever has it can check signatures.
 *
 * @param key an Ed25519 key
 */
public record VerifyingKey(PublicKey key) {
  static final String KIND = "PUBLIC KEY";
  static final String ALGORITHM = "Ed25519";

  /**
   * Reads a public key.
   *
   * @param file PEM, as {@code stopwell key} writes it
   * @return the key
   * @throws KeyFileException when it is not a public Ed25519 key
   * @throws IOException when the disk refuses
   */
  public static VerifyingKey read(Path file) throws IOException {
    byte[] der = Pem.read(file, KIND);
    try {
      return new VerifyingKey(
          KeyFactory.getInstance(ALGORITHM).generatePublic(new X509EncodedKeySpec(der)));
    } catch (GeneralSecurityException e) {
      throw new KeyFileException(file, "is not an " + ALGORITHM + " key");
    }
  }

  /**
   * The number of the key, to compare by eye.
   *
   * @return SHA-256 of its encoding (X.509 SubjectPublicKeyInfo), 64 hexadecimal digits
   */
  public String id() {
    try {
      return HexFormat.of()
          .formatHex(MessageDigest.getInstance("SHA-256").digest(key.getEncoded()));
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  /** Whether a signature is of these bytes by the private half. */
  boolean verifies(byte[] message, byte[] signature) {
    try {
      Signature check = Signature.getInstance(ALGORITHM);
      check.initVerify(key);
      check.update(message);
      return check.verify(signature);
    } catch (GeneralSecurityException e) {
      return false; // not even the form of a signature
    }
  }
}
