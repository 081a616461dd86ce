package org.stopwell.harness.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.lang.reflect.Field;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.Statement;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.record.RunFileException.Kind;

/** The disk is full after any number of pages: one sentence, and no trial is lost. */
class FullDiskTest {
  private static final int TRIALS = 40;

  @TempDir Path directory;

  @ParameterizedTest
  @ValueSource(ints = {0, 1, 2, 3, 5, 8, 13, 21, 34})
  void theMessageNamesThePlaceWhatIsSafeAndHowToContinue(int pages) throws Exception {
    byte[] trace = new byte[3_000];
    new Random(1).nextBytes(trace);
    int kept = 0;
    try (RunFile run = RunFile.create(directory, SampleRun.header(TRIALS, 0))) {
      setPages(run, pages(run) + pages);
      String said = "";
      while (said.isEmpty() && kept < TRIALS) {
        try {
          run.append(SampleRun.stop(kept, kept), trace);
          kept++;
        } catch (RunFileException e) {
          said = e.kind() + " " + e.getMessage();
        }
      }
      assertEquals(
          "DISK_FULL "
              + directory.resolve(RunFile.NAME)
              + ": the disk is full; every recorded trial is safe. Free some space, then continue"
              + " with: stopwell resume "
              + directory,
          said);
      assertThrows(RunFileException.class, () -> run.note("test", "x".repeat(100_000)));
      assertEquals(kept, run.results().size());
      // With space again, the same program goes on: no transaction is half open.
      setPages(run, 100_000);
      run.append(SampleRun.stop(kept, kept), trace);
    }
    try (RunFile run = RunFile.open(directory)) {
      assertEquals(kept + 1, run.results().size());
      for (int i = kept + 1; i < TRIALS; i++) {
        run.append(SampleRun.stop(i, i), null);
      }
      run.finish("then");
    }
    assertTrue(Verification.of(directory).isWhole());
  }

  /** A link to the device that is always full. */
  @Test
  void aSealThatFindsNoSpaceIsMadeAtTheNextOpening() throws IOException {
    Path seal = directory.resolve(RunFile.NAME + ".sha256.new");
    try (RunFile run = RunFile.create(directory, SampleRun.header(1, 0))) {
      run.append(SampleRun.stop(0, 12), null);
      Files.createSymbolicLink(seal, Path.of("/dev/full"));
      RunFileException e = assertThrows(RunFileException.class, () -> run.finish("then"));
      assertEquals(Kind.DISK_FULL, e.kind(), e.getMessage());
      assertTrue(
          e.getMessage().endsWith("continue with: stopwell resume " + directory), e.getMessage());
    }
    Files.delete(seal);
    assertEquals(
        Kind.FINISHED, assertThrows(RunFileException.class, () -> RunFile.open(directory)).kind());
    assertTrue(Verification.of(directory).isWhole());
  }

  private static long pages(RunFile run) throws Exception {
    try (Statement statement = connection(run).createStatement();
        var row = statement.executeQuery("PRAGMA page_count")) {
      return row.getLong(1);
    }
  }

  private static void setPages(RunFile run, long most) throws Exception {
    try (Statement statement = connection(run).createStatement()) {
      statement.execute("PRAGMA max_page_count = " + most);
    }
  }

  /** The limit belongs to a connection, not to the file. */
  private static Connection connection(RunFile run) throws Exception {
    Field field = RunFile.class.getDeclaredField("connection");
    field.setAccessible(true);
    return (Connection) field.get(run);
  }
}
