package org.stopwell.harness.protocol;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;
import org.stopwell.rig.random.SecretBits;

/**
 * The secret behind the codes of a blinded run: which code is which level, and a nonce. Nobody can
 * compute the codes from plan and seed, and nobody can find them by trying every order against the
 * commitment, because the nonce is unknown.
 *
 * @param nonce 256 random bits, 64 hexadecimal digits
 * @param factor the blinded factor
 * @param levels level of each code, by code
 */
public record BlindKey(String nonce, String factor, Map<String, String> levels) {
  /** Most levels that can be coded: codes are letters. */
  public static final int MOST_CODES = 26;

  private static final String TITLE = "stopwell blinding key";
  private static final String NONCE = "nonce ";
  private static final String FACTOR = "factor ";
  private static final int NONCE_BYTES = 32;
  private static final Pattern HEX = Pattern.compile("[0-9a-f]{64}");
  private static final Pattern CODE = Pattern.compile("[A-Z] .+");

  /** Takes a copy in the order of the codes. */
  public BlindKey {
    levels = Collections.unmodifiableMap(new TreeMap<>(levels));
  }

  /**
   * Draws a key.
   *
   * @param factor the blinded factor
   * @param levels its levels, at most 26
   * @return codes A, B, C … in an order that follows from a fresh secret nonce
   */
  public static BlindKey draw(String factor, List<String> levels) {
    String nonce = HexFormat.of().formatHex(SecretBits.draw(NONCE_BYTES));
    List<String> order =
        levels.stream().sorted(Comparator.comparing(level -> sha256(nonce + " " + level))).toList();
    Map<String, String> byCode = new TreeMap<>();
    for (int i = 0; i < order.size(); i++) {
      byCode.put(String.valueOf((char) ('A' + i)), order.get(i));
    }
    return new BlindKey(nonce, factor, byCode);
  }

  /**
   * The key as text, whose bytes are the ones that the commitment is made of.
   *
   * @return UTF-8 lines: title, nonce, factor, then code and level
   */
  public String text() {
    StringBuilder text = new StringBuilder();
    text.append(TITLE).append('\n');
    text.append(NONCE).append(nonce).append('\n');
    text.append(FACTOR).append(factor).append('\n');
    levels.forEach((code, level) -> text.append(code).append(' ').append(level).append('\n'));
    return text.toString();
  }

  /**
   * Reads what {@link #text} wrote.
   *
   * @param text the text
   * @return the key
   * @throws IllegalArgumentException when it is none
   */
  public static BlindKey read(String text) {
    List<String> lines = text.lines().toList();
    Map<String, String> levels = new TreeMap<>();
    lines.stream()
        .skip(3)
        .filter(line -> CODE.matcher(line).matches())
        .forEach(line -> levels.put(line.substring(0, 1), line.substring(2)));
    if (lines.size() > 3 && lines.get(1).startsWith(NONCE) && lines.get(2).startsWith(FACTOR)) {
      BlindKey key =
          new BlindKey(
              lines.get(1).substring(NONCE.length()),
              lines.get(2).substring(FACTOR.length()),
              levels);
      if (HEX.matcher(key.nonce).matches() && key.text().equals(text)) {
        return key;
      }
    }
    throw new IllegalArgumentException("not the key of a blinded run");
  }

  /**
   * What a run file keeps of the key.
   *
   * @return SHA-256 of the bytes of {@link #text}, 64 hexadecimal digits
   */
  public String commitment() {
    return sha256(text());
  }

  /**
   * The codes by level.
   *
   * @return code of each level
   */
  public Map<String, String> codes() {
    Map<String, String> codes = new HashMap<>();
    levels.forEach((code, level) -> codes.put(level, code));
    return codes;
  }

  private static String sha256(String text) {
    try {
      return HexFormat.of()
          .formatHex(
              MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8)));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}
