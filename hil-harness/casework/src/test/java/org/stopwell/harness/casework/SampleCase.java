package org.stopwell.harness.casework;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.stopwell.harness.casework.CaseEntry.Change;
import org.stopwell.harness.casework.CaseEntry.Finding;
import org.stopwell.harness.casework.CaseEntry.Opened;
import org.stopwell.harness.trial.Verdict;

/** A lower molar with four canals, each at another step of the work. */
public final class SampleCase {
  private SampleCase() {}

  /**
   * Writes case and record. MB is filled, ML has changed at the recheck, DB waits for its shaping,
   * and a radiograph contradicts the length of DL.
   *
   * @param directory an empty directory
   * @throws Exception when it cannot be written
   */
  public static void write(Path directory) throws Exception {
    CaseTemplate.write(directory, 36, List.of("MB", "ML", "DB", "DL"), "A1");
    try (CaseRecord record = CaseRecord.open(directory)) {
      int mb = length(record, "MB", 19_720, Finding.CONFIRMS);
      record.append(Entries.shaped("MB", mb, 19_720));
      record.append(Entries.rechecked("MB", mb, Change.UNCHANGED, -60));
      CaseCanal canal = CaseReader.read(directory).canal("MB").orElseThrow();
      Filling filling = Filling.of(canal, record.history("MB"), Optional.empty(), 0);
      record.append(filling.entry(Entries.stamp("MB")));
      int ml = length(record, "ML", 19_180, Finding.CONFIRMS);
      record.append(Entries.shaped("ML", ml, 19_180));
      record.append(Entries.rechecked("ML", ml, Change.CHANGED, -410));
      length(record, "DB", 20_110, Finding.CONFIRMS);
      length(record, "DL", 18_840, Finding.CONTRADICTS);
    }
  }

  /** Opens, measures and compares with a radiograph; the number of the entry of the length. */
  private static int length(CaseRecord record, String canal, int microns, Finding finding)
      throws Exception {
    record.append(
        new Opened(
            Entries.stamp(canal),
            new StepFile(35, 800, "nickel-titanium"),
            "forward",
            13_000,
            12_990,
            13_020,
            20_000,
            4_000,
            Verdict.PASS,
            ""));
    int number = record.append(Entries.measured(canal, microns)).number();
    record.append(Entries.radiographed(canal, number, finding));
    return number;
  }
}
