package org.stopwell.harness.standing;

import java.util.Locale;
import java.util.SortedMap;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.ProofRecord;

/** Calibrations and proof of a bench as single items, so that two dates can be compared. */
public final class RecordItems {
  private static final String BENCH = "bench.";
  private static final String CALIBRATION = "calibration.";
  private static final String PROOF = "proof";

  private RecordItems() {}

  /**
   * Which bench it is.
   *
   * @param bench the bench
   * @return serial number, firmware and what its station file says
   */
  public static SortedMap<String, String> of(BenchDescription bench) {
    SortedMap<String, String> items = new TreeMap<>();
    items.put(BENCH + "serial_number", bench.serialNumber());
    items.put(BENCH + "firmware", bench.firmware());
    if (!bench.setup().isEmpty()) {
      items.put(BENCH + "setup", bench.setup());
    }
    return items;
  }

  /**
   * The records of a bench.
   *
   * @param calibrations its calibrations
   * @param proof its newest proof, or null
   * @return one line for each quantity that was calibrated, and one for the proof
   */
  public static SortedMap<String, String> of(
      Calibrations calibrations, @Nullable ProofRecord proof) {
    SortedMap<String, String> items = new TreeMap<>();
    for (Quantity quantity : Quantity.values()) {
      calibrations
          .inForce(quantity)
          .ifPresent(record -> items.put(CALIBRATION + quantity.key(), line(record)));
    }
    if (proof != null) {
      items.put(
          PROOF,
          "of "
              + proof.date()
              + ", due "
              + proof.due()
              + (proof.failed() ? ", failed" : proof.complete() ? ", complete" : ", incomplete")
              + (proof.gaugeNanometres() < 0 ? "" : ", gauge " + proof.gaugeNanometres() + " nm"));
    }
    return items;
  }

  /**
   * Whether an item of a freeze is about the bench that it was frozen at.
   *
   * @param key its key
   * @return true for those that {@code of} gives
   */
  public static boolean isOne(String key) {
    return key.startsWith(BENCH) || key.startsWith(CALIBRATION) || key.equals(PROOF);
  }

  private static String line(CalibrationRecord r) {
    String unit = r.quantity().sign();
    return String.format(
        Locale.ROOT,
        "of %s, due %s, %+.3f %s, spread %.3f %s of %d, against %s, certificate %s, U %.3f %s (k"
            + " %.3g), by %s%s",
        r.date(),
        r.due(),
        r.mean(),
        unit,
        r.spread(),
        unit,
        r.readingsThousandths().size(),
        r.instrument(),
        r.certificate(),
        r.uncertaintyThousandths() / 1e3,
        unit,
        r.coverageThousandths() / 1e3,
        r.operator(),
        r.simulated() ? ", simulated" : "");
  }
}
