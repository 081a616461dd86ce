package org.stopwell.harness.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseCanal;
import org.stopwell.harness.casework.CaseReader;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.CaseStamp;
import org.stopwell.harness.casework.RecordCheck;
import org.stopwell.harness.casework.ToothCase;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.time.Utc;

/** One canal of a case with what its record says. */
record OpenCase(ToothCase tooth, CaseCanal canal, RecordCheck record) {
  /** Kinds of canal that stand on a physical bench and have a known length. */
  private static final List<String> NETWORKS = List.of("resistors", "network");

  /** Reads case and record; neither is held. */
  static OpenCase read(Path directory, String canal)
      throws PlanException, UsageException, IOException {
    ToothCase tooth = CaseReader.read(directory);
    return new OpenCase(tooth, canal(tooth, directory, canal), CaseRecord.verify(directory));
  }

  /**
   * Reads case and record for a step that moves a file. The result of a step is judged by the true
   * length of the canal, which a physical bench knows of a resistor network alone.
   */
  static OpenCase read(Path directory, String canal, BenchOptions benches)
      throws PlanException, UsageException, IOException {
    OpenCase open = read(directory, canal);
    String kind =
        open.canal.simulated().getOrDefault("canal", Map.of()).getOrDefault("kind", "tooth");
    if (benches.kind().physical() && !NETWORKS.contains(kind)) {
      throw new UsageException(
          "--bench "
              + benches.word()
              + ": canal "
              + canal
              + " is a model, canal.kind "
              + kind
              + ", which only the virtual and the emulated bench play; on a physical bench state"
              + " the resistor network under simulated, canal.kind "
              + String.join(" or ", NETWORKS)
              + " (extracted teeth: docs/teeth.md)");
    }
    return open;
  }

  /** A canal by the name that was typed. */
  static CaseCanal canal(ToothCase tooth, Path directory, String canal) throws UsageException {
    return tooth
        .canal(canal)
        .orElseThrow(
            () ->
                new UsageException(
                    canal
                        + " is not a canal of "
                        + directory
                        + "; its canals are "
                        + String.join(", ", tooth.names())));
  }

  /** What was done in the canal. */
  CanalHistory history() {
    return CanalHistory.of(record.entries(), canal.name());
  }

  /** What the entry of a step states that moves a file. */
  CaseStamp stamp(String operator, BenchDescription bench, ControllerSettings settings) {
    return stamp(
        operator,
        bench.kind(),
        bench.simulated(),
        String.format(Locale.ROOT, "%016x", settings.fingerprint()));
  }

  /** What the entry of a step states that moves no file. */
  CaseStamp stamp(String operator, boolean simulated) {
    return stamp(operator, CaseStamp.NO_BENCH, simulated, "");
  }

  private CaseStamp stamp(String operator, String bench, boolean simulated, String settings) {
    return new CaseStamp(
        Utc.now(),
        tooth.tooth(),
        canal.name(),
        operator,
        bench,
        simulated,
        Build.identity(),
        tooth.sha256(),
        settings);
  }

  /** A distance that an option gives. */
  static int microns(String option, double mm) throws UsageException {
    if (!(mm >= 0 && mm <= 10)) {
      throw new UsageException(option + " " + mm + " mm is outside 0 to 10 mm");
    }
    return (int) Math.round(mm * 1e3);
  }
}
