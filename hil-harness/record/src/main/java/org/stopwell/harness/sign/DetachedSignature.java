package org.stopwell.harness.sign;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Base64;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A signature in a file of its own, beside what it signs. The signed bytes are the lines of that
 * file above the last one, so that other programs can check it too.
 *
 * @param subject what is signed
 * @param sha256 its hash, 64 hexadecimal digits
 * @param key number of the key, 64 hexadecimal digits
 * @param signature 64 bytes in Base64
 */
public record DetachedSignature(Subject subject, String sha256, String key, String signature) {
  private static final String HEAD =
      "# A signature of Stopwell (Ed25519). The four lines above the last one are signed.\n";

  private static final Pattern TEXT =
      Pattern.compile(
          Pattern.quote(HEAD)
              + "signs = ([a-z ]+)\nsha256 = ([0-9a-f]{64})\nkey = ([0-9a-f]{64})\n"
              + "signature = ([A-Za-z0-9+/]{86}==)\n");

  /** A file with a signature is far smaller, bytes. */
  private static final int LONGEST = 2_000;

  /** What a signature is about; a signature of one is never valid for another. */
  public enum Subject {
    /** The newest hash of a run file's chain. */
    RUN("fingerprint of a run"),
    /** The bytes of a report. */
    REPORT("report"),
    /** The hash of a frozen plan. */
    FROZEN_PLAN("frozen plan");

    private final String text;

    Subject(String text) {
      this.text = text;
    }

    /**
     * The subject in plain words.
     *
     * @return a few words
     */
    public String text() {
      return text;
    }
  }

  /**
   * The file of a signature.
   *
   * @param signed the file whose content is signed
   * @return {@code .sig} after its name
   */
  public static Path fileOf(Path signed) {
    return signed.resolveSibling(signed.getFileName() + ".sig");
  }

  /**
   * Signs. The same key gives the same signature every time.
   *
   * @param subject what is signed
   * @param sha256 its hash, 64 hexadecimal digits
   * @param key the key
   * @return the signature
   */
  public static DetachedSignature of(Subject subject, String sha256, SigningKey key) {
    DetachedSignature unsigned = new DetachedSignature(subject, sha256, key.verifying().id(), "");
    byte[] bytes = key.sign(unsigned.message());
    return new DetachedSignature(
        subject, sha256, unsigned.key, Base64.getEncoder().encodeToString(bytes));
  }

  /**
   * Writes the signature beside what it signs. It replaces an earlier one of the same key only.
   *
   * @param signed the file whose content is signed
   * @return the file of the signature
   * @throws KeyFileException when there is a signature of another key
   * @throws IOException when the disk refuses
   */
  public Path write(Path signed) throws IOException {
    Path file = fileOf(signed);
    if (Files.exists(file) && !read(file).map(DetachedSignature::key).equals(Optional.of(key))) {
      throw new KeyFileException(
          file, "is a signature of another key; move it away first if you want to replace it");
    }
    Path aside = file.resolveSibling(file.getFileName() + ".new");
    Files.write(aside, text().getBytes(StandardCharsets.US_ASCII));
    Files.move(aside, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    return file;
  }

  /**
   * Reads a signature.
   *
   * @param file its file, which exists
   * @return empty when it does not hold a signature
   * @throws IOException when the disk refuses
   */
  public static Optional<DetachedSignature> read(Path file) throws IOException {
    if (!Files.isRegularFile(file) || Files.size(file) > LONGEST) {
      return Optional.empty();
    }
    Matcher text = TEXT.matcher(new String(Files.readAllBytes(file), StandardCharsets.ISO_8859_1));
    if (!text.matches()) {
      return Optional.empty();
    }
    for (Subject subject : Subject.values()) {
      if (subject.text.equals(text.group(1))) {
        return Optional.of(
            new DetachedSignature(subject, text.group(2), text.group(3), text.group(4)));
      }
    }
    return Optional.empty();
  }

  /**
   * Why a signature does not stand.
   *
   * @param file its file
   * @param subject what it must sign
   * @param sha256 the hash of the subject as it is now
   * @param key the key that must have signed
   * @return one sentence, empty when the signature stands
   * @throws IOException when the disk refuses
   */
  public static Optional<String> fault(Path file, Subject subject, String sha256, VerifyingKey key)
      throws IOException {
    String name = file.getFileName() + " ";
    if (!Files.exists(file)) {
      return Optional.of(name + "is missing: the " + subject.text + " is not signed");
    }
    Optional<DetachedSignature> read = read(file);
    if (read.isEmpty()) {
      return Optional.of(name + "is not a signature of Stopwell");
    }
    DetachedSignature found = read.get();
    if (found.subject != subject) {
      return Optional.of(
          name + "signs a " + found.subject.text + ", it must sign a " + subject.text);
    }
    if (!found.key.equals(key.id())) {
      return Optional.of(name + "was made with the key " + found.key + ", not with " + key.id());
    }
    if (!key.verifies(found.message(), Base64.getDecoder().decode(found.signature))) {
      return Optional.of(name + "was not made with the key " + key.id() + ", or was changed");
    }
    return found.sha256.equals(sha256)
        ? Optional.empty()
        : Optional.of(
            name
                + "signs the hash "
                + found.sha256
                + ", the "
                + subject.text
                + " has "
                + sha256
                + (subject == Subject.REPORT
                    ? ": the report was made again or changed after it was signed"
                    : ""));
  }

  private byte[] message() {
    return (HEAD + "signs = " + subject.text + "\nsha256 = " + sha256 + "\nkey = " + key + "\n")
        .getBytes(StandardCharsets.US_ASCII);
  }

  private String text() {
    return new String(message(), StandardCharsets.US_ASCII) + "signature = " + signature + "\n";
  }
}
