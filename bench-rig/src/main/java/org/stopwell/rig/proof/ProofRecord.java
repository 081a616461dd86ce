package org.stopwell.rig.proof;

import java.time.LocalDate;
import java.util.List;
import org.stopwell.rig.bench.BenchDescription;

/**
 * What was proven of a bench, and when.
 *
 * @param bench the bench as it was then
 * @param date when it was proven
 * @param due when it must be proven again; still good on that day
 * @param findings one per check
 * @param gaugeNanometres standard deviation of the gauge study, nm; below 0 when it was not done
 * @param gaugeFreedom degrees of freedom of its repeats
 * @param lateness how late the loop was
 */
public record ProofRecord(
    BenchDescription bench,
    LocalDate date,
    LocalDate due,
    List<Finding> findings,
    long gaugeNanometres,
    int gaugeFreedom,
    Lateness lateness) {

  /**
   * The histogram of a loop in five numbers.
   *
   * @param steps how many steps were taken
   * @param medianNs half of them were not later, ns
   * @param p99Ns 99 % were not later, ns
   * @param p999Ns 99.9 % were not later, ns
   * @param worstNs the latest, ns
   */
  public record Lateness(long steps, long medianNs, long p99Ns, long p999Ns, long worstNs) {}

  /** Copies the findings. */
  public ProofRecord {
    findings = List.copyOf(findings);
  }

  /**
   * Whether a check failed.
   *
   * @return true when one did
   */
  public boolean failed() {
    return findings.stream().anyMatch(f -> f.outcome() == Finding.Outcome.FAIL);
  }

  /**
   * Whether it is of a board that watches a device; such a board has no gauge study.
   *
   * @return true when the leak of its chain was checked
   */
  public boolean ofDevice() {
    return findings.stream().anyMatch(f -> f.check().equals(DeviceProof.LEAK));
  }

  /**
   * Whether every check was done.
   *
   * @return false when one was not
   */
  public boolean complete() {
    return (gaugeNanometres >= 0 || ofDevice())
        && findings.stream().map(Finding::outcome).noneMatch(o -> o == Finding.Outcome.NOT_DONE);
  }
}
