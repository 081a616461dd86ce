package org.stopwell.rig.wire;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The C codec of the firmware, compiled for this machine with every check a compiler offers, and
 * the Java codec must say the same to the byte.
 */
class FirmwareCodecTest {
  private static final Path FIRMWARE = Path.of("firmware");

  @TempDir private static Path folder;

  @BeforeAll
  static void compile() throws Exception {
    Process gcc =
        new ProcessBuilder(
                "gcc",
                "-std=c99",
                "-Wall",
                "-Wextra",
                "-Wconversion",
                "-Werror",
                "-O1",
                "-fsanitize=address,undefined",
                "-fno-sanitize-recover=all",
                "-I" + FIRMWARE.resolve("wire"),
                "-o",
                folder.resolve("echo").toString(),
                FIRMWARE.resolve("wire/sw_frame.c").toString(),
                FIRMWARE.resolve("test/echo.c").toString())
            .redirectErrorStream(true)
            .start();
    String said = new String(gcc.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertEquals(0, gcc.waitFor(), said);
  }

  @Test
  void everyMessageGoesThroughTheFirmwareUnchanged() throws Exception {
    SplittableRandom random = new SplittableRandom(41);
    ByteArrayOutputStream sent = new ByteArrayOutputStream();
    FrameWriter writer = new FrameWriter();
    for (Message message : Message.values()) {
      for (int i = 0; i < 200; i++) {
        int length = writer.write(PacketSamples.random(message, random));
        sent.write(writer.bytes(), 0, length);
      }
    }
    assertArrayEquals(sent.toByteArray(), echo(sent.toByteArray()));
    assertEquals(
        200 * Message.values().length + " good, 0 bad\n", Files.readString(folder.resolve("said")));
  }

  @Test
  void garbageNeverHarmsTheFirmwareAndBothSidesKeepTheSameFrames() throws Exception {
    SplittableRandom random = new SplittableRandom(42);
    ByteArrayOutputStream sent = new ByteArrayOutputStream();
    FrameWriter writer = new FrameWriter();
    Message[] messages = Message.values();
    for (int i = 0; i < 3000; i++) {
      byte[] garbage = new byte[random.nextInt(400)];
      random.nextBytes(garbage);
      sent.write(garbage);
      int length =
          writer.write(PacketSamples.random(messages[random.nextInt(messages.length)], random));
      int from = random.nextInt(3) == 0 ? random.nextInt(length) : 0;
      sent.write(writer.bytes(), from, length - from);
      sent.write(0);
    }
    ByteArrayOutputStream kept = new ByteArrayOutputStream();
    FrameReader reader = new FrameReader();
    for (byte b : sent.toByteArray()) {
      if (reader.take(b)) {
        int length = writer.write(reader.packet());
        kept.write(writer.bytes(), 0, length);
      }
    }
    assertTrue(reader.counts().bad() > 1000 && reader.counts().good() > 1, "seed 42");
    assertArrayEquals(kept.toByteArray(), echo(sent.toByteArray()));
  }

  private static byte[] echo(byte[] sent) throws Exception {
    Path said = folder.resolve("said");
    Process echo =
        new ProcessBuilder(folder.resolve("echo").toString()).redirectError(said.toFile()).start();
    Thread feeder =
        new Thread(
            () -> {
              try (OutputStream to = echo.getOutputStream()) {
                to.write(sent);
              } catch (IOException e) {
                // The program has died; its exit code below tells.
              }
            });
    feeder.start();
    byte[] bytes = echo.getInputStream().readAllBytes();
    feeder.join();
    assertTrue(echo.waitFor(200, TimeUnit.SECONDS));
    assertEquals(0, echo.exitValue(), Files.readString(said));
    return bytes;
  }
}
