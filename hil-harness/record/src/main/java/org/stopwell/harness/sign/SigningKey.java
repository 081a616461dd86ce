package org.stopwell.harness.sign;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.SeekableByteChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.PrivateKey;
import java.security.Signature;
import java.security.spec.PKCS8EncodedKeySpec;
import java.util.Collections;
import java.util.Set;

/**
 * A key pair: its private half signs. The private half lies in a file that only its owner can read,
 * the public half in a file beside it.
 */
public final class SigningKey {
  private static final String KIND = "PRIVATE KEY";

  /** Read and write for the owner, nothing for others: mode 0600. */
  private static final Set<PosixFilePermission> OWNER_ONLY =
      PosixFilePermissions.fromString("rw-------");

  private static final Set<PosixFilePermission> OTHERS =
      PosixFilePermissions.fromString("---rwxrwx");

  private final PrivateKey key;
  private final VerifyingKey verifying;

  private SigningKey(PrivateKey key, VerifyingKey verifying) {
    this.key = key;
    this.verifying = verifying;
  }

  /**
   * The file of the public half.
   *
   * @param file the file of the private half
   * @return {@code .pub} after its name
   */
  public static Path publicFile(Path file) {
    return file.resolveSibling(file.getFileName() + ".pub");
  }

  /**
   * Makes a key pair and writes both files. None is replaced.
   *
   * @param file the file of the private half: PEM, PKCS #8, mode 0600
   * @return the key
   * @throws KeyFileException when one of the files is there
   * @throws IOException when the disk refuses
   */
  public static SigningKey make(Path file) throws IOException {
    for (Path one : Set.of(file, publicFile(file))) {
      if (Files.exists(one)) {
        throw new KeyFileException(
            one, "there is already a file; a key is never replaced, choose another name");
      }
    }
    try {
      KeyPair pair = KeyPairGenerator.getInstance(VerifyingKey.ALGORITHM).generateKeyPair();
      SigningKey made = new SigningKey(pair.getPrivate(), new VerifyingKey(pair.getPublic()));
      writePrivate(file, Pem.text(KIND, pair.getPrivate().getEncoded()));
      Files.writeString(
          publicFile(file),
          Pem.text(VerifyingKey.KIND, pair.getPublic().getEncoded()),
          StandardOpenOption.CREATE_NEW,
          StandardOpenOption.WRITE,
          StandardOpenOption.DSYNC);
      return made;
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("every Java platform from 15 on has Ed25519", e);
    }
  }

  /** The file has its mode from its first moment on: no other program can open it before. */
  private static void writePrivate(Path file, String text) throws IOException {
    try (SeekableByteChannel channel =
        Files.newByteChannel(
            file,
            Set.of(
                StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE, StandardOpenOption.DSYNC),
            PosixFilePermissions.asFileAttribute(OWNER_ONLY))) {
      ByteBuffer bytes = ByteBuffer.wrap(text.getBytes(StandardCharsets.US_ASCII));
      while (bytes.hasRemaining()) {
        channel.write(bytes);
      }
    } catch (FileAlreadyExistsException e) {
      throw new KeyFileException(file, "there is already a file; choose another name");
    } catch (UnsupportedOperationException e) {
      throw withoutPermissions(file);
    }
  }

  private static Set<PosixFilePermission> mode(Path file) throws IOException {
    try {
      return Files.getPosixFilePermissions(file);
    } catch (UnsupportedOperationException e) {
      throw withoutPermissions(file);
    }
  }

  private static KeyFileException withoutPermissions(Path file) {
    return new KeyFileException(
        file, "this file system keeps no permissions; choose a directory on one that does");
  }

  /**
   * Reads a key pair.
   *
   * @param file the file of the private half; the public half lies beside it
   * @return the key
   * @throws KeyFileException when others can open the private half, or the halves do not belong
   *     together
   * @throws IOException when the disk refuses
   */
  public static SigningKey read(Path file) throws IOException {
    byte[] der = Pem.read(file, KIND);
    Set<PosixFilePermission> mode = mode(file);
    if (!Collections.disjoint(mode, OTHERS)) {
      throw new KeyFileException(
          file,
          "others can open this private key (mode "
              + PosixFilePermissions.toString(mode)
              + "); use: chmod 600 "
              + file
              + ", and make a new key if others may have read it");
    }
    VerifyingKey verifying = VerifyingKey.read(publicFile(file));
    try {
      SigningKey key =
          new SigningKey(
              KeyFactory.getInstance(VerifyingKey.ALGORITHM)
                  .generatePrivate(new PKCS8EncodedKeySpec(der)),
              verifying);
      byte[] probe = {1};
      if (!verifying.verifies(probe, key.sign(probe))) {
        throw new KeyFileException(publicFile(file), "is not the public half of " + file);
      }
      return key;
    } catch (GeneralSecurityException e) {
      throw new KeyFileException(file, "is not an " + VerifyingKey.ALGORITHM + " key");
    }
  }

  /**
   * The public half.
   *
   * @return the key that checks what this one signs
   */
  public VerifyingKey verifying() {
    return verifying;
  }

  byte[] sign(byte[] message) {
    try {
      Signature signature = Signature.getInstance(VerifyingKey.ALGORITHM);
      signature.initSign(key);
      signature.update(message);
      return signature.sign();
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("an Ed25519 key signs any bytes", e);
    }
  }
}
