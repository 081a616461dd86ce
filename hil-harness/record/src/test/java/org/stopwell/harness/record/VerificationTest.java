package org.stopwell.harness.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class VerificationTest {
  private final Path directory;
  private final Path file;

  VerificationTest(@TempDir Path directory) {
    this.directory = directory;
    this.file = directory.resolve(RunFile.NAME);
  }

  @Test
  void anUntouchedRunIsWhole() throws IOException {
    finished();
    Verification v = Verification.of(directory);
    assertTrue(v.isWhole(), v.faults().toString());
    assertEquals(20, v.trials());
    assertEquals(4, v.traces());
    assertTrue(v.finished());
    assertEquals(64, v.headHash().length());
    assertEquals(64, v.contentHash().length());
  }

  @Test
  void anUnfinishedRunIsWholeAndHasNoSeal() throws IOException {
    try (RunFile run = RunFile.create(directory, SampleRun.header(2, 0))) {
      run.append(SampleRun.stop(0, 1), null);
    }
    Verification v = Verification.of(directory);
    assertTrue(v.isWhole(), v.faults().toString());
    assertFalse(v.finished());
    assertFalse(Files.exists(Seal.of(file)));
  }

  @Test
  void anyChangedByteIsFound() throws IOException {
    finished();
    long seed = 99;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    byte[] good = Files.readAllBytes(file);
    for (int i = 0; i < 300; i++) {
      byte[] bad = good.clone();
      int at = i < 100 ? i : random.nextInt(good.length);
      bad[at] ^= (byte) (1 << random.nextInt(8));
      Files.write(file, bad);
      assertFalse(Verification.of(directory).isWhole(), "byte " + at);
    }
    Files.write(file, good);
    assertTrue(Verification.of(directory).isWhole());
  }

  @Test
  void aCutAndAnAppendedFileAreFound() throws IOException {
    finished();
    byte[] good = Files.readAllBytes(file);
    Files.write(file, java.util.Arrays.copyOf(good, good.length - 4096));
    assertFalse(Verification.of(directory).isWhole());
    Files.write(file, java.util.Arrays.copyOf(good, good.length + 1));
    assertFalse(Verification.of(directory).isWhole());
  }

  @Test
  void aMissingSealIsFoundAndMadeAgainByTheNextAttemptToGoOn() throws IOException {
    finished();
    Files.delete(Seal.of(file));
    assertFalse(Verification.of(directory).isWhole());
    assertThrows(RunFileException.class, () -> RunFile.open(directory));
    assertTrue(Verification.of(directory).isWhole());
  }

  @Test
  void theSealIsReadByTheUsualTool() throws Exception {
    finished();
    Process check =
        new ProcessBuilder("sha256sum", "-c", "run.db.sha256")
            .directory(directory.toFile())
            .redirectErrorStream(true)
            .start();
    assertTrue(check.waitFor(200, TimeUnit.SECONDS));
    assertEquals(0, check.exitValue());
  }

  @Test
  void theContentHashDoesNotDependOnTheOrderInWhichTrialsWereFinished(@TempDir Path other)
      throws IOException {
    try (RunFile forward = RunFile.create(directory, SampleRun.header(2, 0));
        RunFile backward = RunFile.create(other, SampleRun.header(2, 0))) {
      forward.append(SampleRun.stop(0, 1), null);
      forward.append(SampleRun.stop(1, 2), null);
      backward.append(SampleRun.stop(1, 2), null);
      backward.note("resumed", "after a power cut");
      backward.append(SampleRun.stop(0, 1), null);
    }
    Verification a = Verification.of(directory);
    Verification b = Verification.of(other);
    assertEquals(a.contentHash(), b.contentHash());
    assertFalse(a.headHash().equals(b.headHash()));
  }

  @Test
  void aMissingRunIsAMistakeOfTheCaller() {
    assertThrows(RunFileException.class, () -> Verification.of(directory));
  }

  private void finished() throws IOException {
    try (RunFile run = RunFile.create(directory, SampleRun.header(20, 0))) {
      byte[] trace = new byte[3000];
      new Random(3).nextBytes(trace);
      for (int i = 0; i < 20; i++) {
        run.append(SampleRun.stop(i, i * 7), i % 5 == 0 ? trace : null);
      }
      run.finish("2026-01-02T03:05:05Z");
    }
    assertEquals(List.of(), Verification.of(directory).faults());
  }
}
