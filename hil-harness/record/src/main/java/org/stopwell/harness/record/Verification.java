package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Whether a run file is complete and unchanged: bytes against the seal, pages against each other,
 * entries against the hash chain, traces against the hashes that the chain holds.
 *
 * @param faults what is wrong, one sentence each; empty when nothing is
 * @param trials how many trials the chain holds
 * @param traces how many traces were checked
 * @param finished whether the campaign is finished; only then is there a seal
 * @param fingerprint newest hash of the chain, empty when it could not be walked
 * @param uncovered what the chain does not cover, because an older version wrote the file
 */
public record Verification(
    List<String> faults,
    int trials,
    int traces,
    boolean finished,
    String fingerprint,
    List<String> uncovered) {
  /** Takes copies. */
  public Verification {
    faults = List.copyOf(faults);
    uncovered = List.copyOf(uncovered);
  }

  /**
   * Checks the run file of a directory. Whoever changes a file may also make it a new chain and a
   * new seal: compare the fingerprint with one that was sent in time, or check a signature.
   *
   * @param directory the run directory
   * @return what was found
   * @throws RunFileException when there is no run file or the disk refuses
   */
  public static Verification of(Path directory) throws RunFileException {
    List<String> faults = new ArrayList<>();
    try (RunFile run = RunFile.load(directory)) {
      faults.addAll(run.pageFaults());
      Optional<String> finished = run.finishedAt();
      if (finished.isPresent()) {
        Seal.fault(directory.resolve(RunFile.NAME)).ifPresent(faults::add);
      }
      List<Integer> traced = run.tracedTrials();
      for (int trial : traced) {
        checkTrace(run, trial, faults);
      }
      return new Verification(
          faults,
          run.results().size(),
          traced.size(),
          finished.isPresent(),
          run.headHash(),
          run.uncovered());
    } catch (RunFileException e) {
      if (e.kind() == RunFileException.Kind.MISSING) {
        throw e;
      }
      faults.add(e.getMessage());
    } catch (IOException e) {
      throw new RunFileException(
          RunFileException.Kind.DISK, directory + ": cannot be read: " + e.getMessage(), e);
    }
    return new Verification(faults, 0, 0, false, "", List.of());
  }

  /**
   * Whether nothing is wrong.
   *
   * @return true when the file is whole and unchanged
   */
  public boolean isWhole() {
    return faults.isEmpty();
  }

  private static void checkTrace(RunFile run, int trial, List<String> faults) {
    try {
      run.trace(trial);
    } catch (RunFileException e) {
      faults.add(e.getMessage());
    }
  }
}
