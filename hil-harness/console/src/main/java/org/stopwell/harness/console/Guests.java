package org.stopwell.harness.console;

import java.net.InetAddress;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Base64;
import javax.crypto.KeyGenerator;

/**
 * Who may look from another machine: everybody who knows the token, at one address of this machine.
 *
 * @param address where the server listens beside the loopback address
 * @param token what a guest must know
 */
public record Guests(InetAddress address, String token) {
  /** Fewest characters of a token; 16 of them from 64 signs are 96 bits. */
  public static final int SHORTEST_TOKEN = 16;

  /**
   * Checks address and token.
   *
   * @throws IllegalArgumentException when the address means every address, or the token is short or
   *     has signs that an address line does not carry
   */
  public Guests {
    if (address.isAnyLocalAddress() || address.isMulticastAddress()) {
      throw new IllegalArgumentException(
          address.getHostAddress() + " means every address; give one address of this machine");
    }
    if (address.equals(InetAddress.getLoopbackAddress())) {
      throw new IllegalArgumentException(
          address.getHostAddress() + " is served without --listen, to this machine only");
    }
    check(token);
  }

  private static void check(String token) {
    if (token.length() < SHORTEST_TOKEN) {
      throw new IllegalArgumentException(
          "the token has " + token.length() + " characters; it needs " + SHORTEST_TOKEN);
    }
    if (!token.matches("[A-Za-z0-9_-]+")) {
      throw new IllegalArgumentException("the token may contain only A-Z, a-z, 0-9, _ and -");
    }
  }

  /**
   * Makes a token that nobody can guess.
   *
   * @return 32 characters, 192 bits
   */
  public static String newToken() {
    try {
      KeyGenerator keys = KeyGenerator.getInstance("AES");
      keys.init(192);
      return Base64.getUrlEncoder()
          .withoutPadding()
          .encodeToString(keys.generateKey().getEncoded());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has AES", e);
    }
  }

  /** Whether somebody knows the token; how long it takes says nothing about it. */
  boolean admits(String said) {
    return MessageDigest.isEqual(
        token.getBytes(StandardCharsets.UTF_8), said.getBytes(StandardCharsets.UTF_8));
  }
}
