package org.stopwell.harness.sign;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.sign.DetachedSignature.Subject;

/** Keys that only their owner can open, and signatures that say exactly what they are about. */
class SignatureTest {
  private static final String HASH = "ab".repeat(32);

  @TempDir Path dir;

  @Test
  void aKeyIsMadeOnceAndOnlyItsOwnerCanOpenIt() throws IOException {
    Path file = dir.resolve("lab.key");
    SigningKey made = SigningKey.make(file);
    assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
    byte[] before = Files.readAllBytes(file);
    KeyFileException e = assertThrows(KeyFileException.class, () -> SigningKey.make(file));
    assertTrue(e.getMessage().contains("a key is never replaced"), e.getMessage());
    Files.move(file, dir.resolve("elsewhere"));
    assertThrows(KeyFileException.class, () -> SigningKey.make(file), "the public half is there");
    Files.move(dir.resolve("elsewhere"), file);
    assertEquals(new String(before, StandardCharsets.US_ASCII), Files.readString(file));
    assertEquals(made.verifying().id(), SigningKey.read(file).verifying().id());
    assertEquals(made.verifying(), VerifyingKey.read(dir.resolve("lab.key.pub")));
  }

  @ParameterizedTest
  @ValueSource(strings = {"rw-r-----", "rw----r--", "rw--w----", "rw-rw-rw-"})
  void aPrivateKeyThatOthersCanOpenIsRefused(String mode) throws IOException {
    Path file = dir.resolve("lab.key");
    SigningKey.make(file);
    Files.setPosixFilePermissions(file, PosixFilePermissions.fromString(mode));
    KeyFileException e = assertThrows(KeyFileException.class, () -> SigningKey.read(file));
    assertTrue(e.getMessage().contains("others can open this private key (mode " + mode), "" + e);
    assertTrue(e.getMessage().contains("chmod 600 " + file), e.getMessage());
  }

  @Test
  void aFileThatIsNoKeyIsNamed() throws IOException {
    Path file = dir.resolve("lab.key");
    Path pub = dir.resolve("lab.key.pub");
    assertRefused("there is no such key; make one with: stopwell key", () -> SigningKey.read(file));
    SigningKey.make(file);
    assertRefused("holds a PUBLIC KEY, this needs a PRIVATE KEY", () -> SigningKey.read(pub));
    assertRefused("holds a PRIVATE KEY, this needs a PUBLIC KEY", () -> VerifyingKey.read(file));
    SigningKey.make(dir.resolve("other.key"));
    Files.write(pub, Files.readAllBytes(dir.resolve("other.key.pub")));
    assertRefused("is not the public half of", () -> SigningKey.read(file));
    Files.delete(pub);
    assertRefused("lab.key.pub: there is no such key", () -> SigningKey.read(file));
    Files.writeString(pub, "-----BEGIN PUBLIC KEY-----\nAAAA\n-----END PUBLIC KEY-----\n");
    assertRefused("is not an Ed25519 key", () -> VerifyingKey.read(pub));
    Files.writeString(pub, "dear diary");
    assertRefused("is not a key in PEM", () -> VerifyingKey.read(pub));
    Files.write(pub, new byte[20_000]);
    assertRefused("is not a key", () -> VerifyingKey.read(pub));
  }

  @Test
  void aSignatureStandsForItsSubjectItsHashAndItsKeyOnly() throws IOException {
    SigningKey key = SigningKey.make(dir.resolve("lab.key"));
    SigningKey other = SigningKey.make(dir.resolve("other.key"));
    Path signed = dir.resolve("run.db");
    Path file = DetachedSignature.fileOf(signed);
    assertEquals(
        Optional.of("run.db.sig is missing: the fingerprint of a run is not signed"),
        DetachedSignature.fault(file, Subject.RUN, HASH, key.verifying()));
    assertEquals(file, DetachedSignature.of(Subject.RUN, HASH, key).write(signed));
    assertEquals(
        Optional.empty(), DetachedSignature.fault(file, Subject.RUN, HASH, key.verifying()));
    assertFault("signs a fingerprint of a run, it must", file, Subject.REPORT, HASH, key);
    assertFault("signs the hash ab", file, Subject.RUN, "cd".repeat(32), key);
    assertFault("was made with the key " + key.verifying().id(), file, Subject.RUN, HASH, other);
    DetachedSignature.of(Subject.RUN, HASH, key).write(signed);
    KeyFileException e =
        assertThrows(
            KeyFileException.class,
            () -> DetachedSignature.of(Subject.RUN, HASH, other).write(signed));
    assertTrue(e.getMessage().contains("is a signature of another key"), e.getMessage());
  }

  /** Whoever edits the file of a signature gains nothing. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "sha256 = ab              | sha256 = cd        | was not made with the key",
        "fingerprint of a run     | report             | signs a report, it must",
        "signature = ..           | signature = AA     | was not made with the key",
        "# A signature            | # The signature    | is not a signature of Stopwell",
        "$                        | more               | is not a signature of Stopwell",
      })
  void anEditedSignatureDoesNotStand(String from, String to, String fault) throws IOException {
    SigningKey key = SigningKey.make(dir.resolve("lab.key"));
    Path file = DetachedSignature.of(Subject.RUN, HASH, key).write(dir.resolve("run.db"));
    String text = Files.readString(file);
    String edited = text.replaceFirst(from, to);
    assertTrue(!edited.equals(text), text);
    Files.writeString(file, edited);
    assertFault(fault, file, Subject.RUN, HASH, key);
  }

  /** The page shows this check: neither key nor signature needs this program. */
  @Test
  void anotherProgramChecksTheSignature() throws Exception {
    SigningKey key = SigningKey.make(dir.resolve("lab.key"));
    Path file = DetachedSignature.of(Subject.RUN, HASH, key).write(dir.resolve("run.db"));
    String check =
        "head -n 4 run.db.sig > message"
            + " && sed -n 's/^signature = //p' run.db.sig | base64 -d > bytes"
            + " && openssl pkeyutl -verify -pubin -inkey lab.key.pub -rawin -in message"
            + " -sigfile bytes";
    assertEquals(0, shell(check));
    assertEquals(
        0,
        shell(
            "openssl pkey -pubin -in lab.key.pub -outform DER | sha256sum | grep -q "
                + key.verifying().id()));
    Files.writeString(file, Files.readString(file).replace("sha256 = ab", "sha256 = cd"));
    assertEquals(1, shell(check));
  }

  private int shell(String line) throws Exception {
    Process process =
        new ProcessBuilder("/bin/sh", "-c", line)
            .directory(dir.toFile())
            .redirectErrorStream(true)
            .start();
    assertTrue(process.waitFor(200, TimeUnit.SECONDS));
    return process.exitValue();
  }

  private static void assertFault(
      String start, Path file, Subject subject, String hash, SigningKey key) throws IOException {
    String fault =
        DetachedSignature.fault(file, subject, hash, key.verifying()).orElse("it stands");
    assertTrue(fault.startsWith(file.getFileName() + " " + start), fault);
  }

  private interface Reading {
    Object read() throws IOException;
  }

  private static void assertRefused(String why, Reading reading) {
    KeyFileException e = assertThrows(KeyFileException.class, reading::read);
    assertTrue(e.getMessage().contains(why), e.getMessage());
  }
}
