package org.stopwell.harness.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.protocol.BlindKey;
import org.stopwell.harness.protocol.Blinding;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.TrialResult;

/** The key of a blinded run, apart from the run file, which commits to it. */
class BlindKeyFileTest {
  @TempDir Path dir;

  @Test
  void onlyItsOwnerReadsTheKeyAndNobodyWritesItTwice() throws Exception {
    BlindKey key = BlindKey.draw("hand", List.of("steady", "pecking"));
    BlindKeyFile.write(dir, key);
    Path file = dir.resolve(BlindKeyFile.NAME);
    assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
    assertEquals(key, BlindKeyFile.read(dir, key.commitment()));
    assertThrows(RunFileException.class, () -> BlindKeyFile.write(dir, key));
  }

  @Test
  void aMissingKeyAndTheKeyOfAnotherRunAreNamed() throws Exception {
    BlindKey key = BlindKey.draw("hand", List.of("steady", "pecking"));
    RunFileException missing =
        assertThrows(RunFileException.class, () -> BlindKeyFile.read(dir, key.commitment()));
    assertTrue(missing.getMessage().contains("Put the file back"), missing.getMessage());
    BlindKeyFile.write(dir, BlindKey.draw("hand", List.of("steady", "pecking")));
    RunFileException other =
        assertThrows(RunFileException.class, () -> BlindKeyFile.read(dir, key.commitment()));
    assertTrue(other.getMessage().contains("not the key of this run"), other.getMessage());
    assertTrue(other.getMessage().contains(key.commitment()), other.getMessage());
  }

  @Test
  @Timeout(200)
  void aPipeInPlaceOfTheKeyIsRefused() throws Exception {
    for (String name : List.of(BlindKeyFile.NAME, Unblinding.NAME)) {
      Path pipe = dir.resolve(name);
      assertEquals(0, new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor());
    }
    for (Executable read :
        List.<Executable>of(
            () -> BlindKeyFile.read(dir, "00"),
            () -> Unblinding.key(dir, "00"),
            () -> Unblinding.said(dir))) {
      String said = assertThrows(RunFileException.class, read).getMessage();
      assertTrue(said.endsWith("is not a regular file; copy it into one"), said);
    }
  }

  @Test
  void aRunFileHoldsCodesAndTheKeyGivesTheNamesBack() throws Exception {
    TrialResult trial = SampleRun.stop(0, 40).with(new ErrorChain(1, 2, 3, 4, 5, 25));
    String level = trial.condition();
    BlindKey key = BlindKey.draw("hand", List.of(level, "other"));
    RunHeader plain = SampleRun.header(2, 0);
    RunHeader planned =
        plain.with(plain.conditions(), plain.claims(), Protocol.NONE.with(new Blinding("hand", 0)));
    RunHeader kept = planned.coded(key);
    TrialResult stored = ConditionNames.coding(planned, key).of(trial);
    String code = key.codes().get(level);
    assertEquals(code, stored.condition());
    assertTrue(kept.conditions().stream().noneMatch(c -> c.name().equals(level)));
    assertEquals(kept.protocol(), Protocol.of(kept.protocol().rows()), "as the run file keeps it");
    assertEquals(
        trial, ConditionNames.decoding(kept, key).of(stored), "resume goes on with levels");

    ConditionNames before = ConditionNames.shown(kept, dir);
    assertTrue(before.isCoded());
    assertEquals(code, before.of(stored).condition());
    assertEquals(ErrorChain.NONE, before.of(stored).chain(), "nothing that differs by design");
    assertEquals(0, before.of(stored).readingMicrons());
    assertEquals(0, before.of(stored).durationNs());
    assertEquals(trial.stopErrorMicrons(), before.of(stored).stopErrorMicrons());

    Unblinding.write(dir, "2026-01-02T03:04:05Z", "00", key.text());
    ConditionNames after = ConditionNames.shown(kept, dir);
    assertFalse(after.isCoded());
    assertEquals(trial, after.of(stored));
    assertFalse(after.of(kept).isCoded());
    assertEquals(Set.copyOf(plain.conditions()), Set.copyOf(after.of(kept).conditions()));

    Files.writeString(
        dir.resolve(Unblinding.NAME),
        Files.readString(dir.resolve(Unblinding.NAME)).replace("A ", "C "));
    assertThrows(RunFileException.class, () -> ConditionNames.shown(kept, dir));
  }

  @Test
  void aRunFileBeforeVersionFourKeepsItsCodes() throws Exception {
    TrialResult trial = SampleRun.stop(0, 40);
    RunHeader plain = SampleRun.header(2, 0);
    RunHeader old =
        plain.with(
            plain.conditions(),
            plain.claims(),
            Protocol.NONE.with(new Blinding("hand", 0, Map.of(trial.condition(), "B"))));
    assertEquals(old.protocol(), Protocol.of(old.protocol().rows()));
    assertEquals("B", ConditionNames.shown(old, dir).of(trial).condition());
    Unblinding.write(dir, "2026-01-02T03:04:05Z", "00", "B " + trial.condition() + "\n");
    assertEquals(trial, ConditionNames.shown(old, dir).of(trial));
  }
}
