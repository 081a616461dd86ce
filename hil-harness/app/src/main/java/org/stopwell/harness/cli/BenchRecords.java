package org.stopwell.harness.cli;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.budget.Budget;
import org.stopwell.harness.budget.MonteCarlo;
import org.stopwell.harness.budget.StopBudget;
import org.stopwell.harness.plan.CalibrationFile;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.ProofFile;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.report.BenchSection;
import org.stopwell.harness.standing.BenchStanding;
import org.stopwell.harness.standing.RecordItems;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.ProofRecord;
import org.stopwell.rig.virtual.ToothSteps;

/** Proof and calibrations of one bench, in two files that bear its serial number. */
final class BenchRecords {
  private final Path calibrationFile;
  private final Path proofFile;
  private final BenchDescription bench;
  private final String name;
  private final boolean counts;

  BenchRecords(Path directory, BenchDescription bench) {
    this(directory, bench, true);
  }

  /**
   * The records of a bench.
   *
   * @param counts whether they belong into freezes and run files; those of a simulated bench only
   *     when somebody asks for them
   */
  BenchRecords(Path directory, BenchDescription bench, boolean counts) {
    this.counts = counts;
    this.name = bench.serialNumber().replaceAll("[^A-Za-z0-9._-]", "_");
    this.calibrationFile = directory.resolve(name + ".calibration.yaml");
    this.proofFile = directory.resolve(name + ".proof.yaml");
    this.bench = bench;
  }

  Path calibrationFile() {
    return calibrationFile;
  }

  Path proofFile() {
    return proofFile;
  }

  /** The calibrations; none when there is no file. */
  Calibrations calibrations() throws PlanException, UsageException {
    if (!Files.exists(calibrationFile)) {
      return new Calibrations(bench.serialNumber(), List.of());
    }
    Calibrations read = CalibrationFile.read(Source.of(calibrationFile));
    if (!read.bench().equals(bench.serialNumber())) {
      throw new UsageException(
          calibrationFile + " is of bench " + read.bench() + ", this is " + bench.serialNumber());
    }
    return read;
  }

  /** The newest proof, or null. */
  @Nullable ProofRecord proof() throws PlanException {
    return Files.exists(proofFile) ? ProofFile.read(Source.of(proofFile)) : null;
  }

  void keep(Calibrations calibrations) throws IOException {
    keep(calibrationFile, CalibrationFile.text(calibrations));
  }

  /** Keeps a proof; the one before it stays beside it, under its date. */
  void keep(ProofRecord proof) throws IOException, PlanException {
    ProofRecord before = proof();
    if (before != null) {
      String name = String.valueOf(proofFile.getFileName());
      keep(
          proofFile.resolveSibling(name.replace(".yaml", "." + before.date() + ".yaml")),
          ProofFile.text(before));
    }
    keep(proofFile, ProofFile.text(proof));
  }

  /** The readings of steps that are not finished. */
  CalibrationJournal journal() {
    return new CalibrationJournal(
        calibrationFile.resolveSibling(name + ".unfinished.txt"), Instant.parse(Clock.now()));
  }

  /** Keeps the readings of a gauge study; every study stays. */
  Path keepGauge(String csv) throws IOException {
    Path file =
        calibrationFile.resolveSibling(name + ".gauge." + Clock.now().replace(":", "") + ".csv");
    keep(file, csv);
    return file;
  }

  /** Puts an answer that was typed on record at once, right or wrong, used or not. */
  void typed(String question, String answer) throws IOException {
    Path file = calibrationFile.resolveSibling(name + ".typed.txt");
    Files.createDirectories(file.toAbsolutePath().getParent());
    Files.writeString(
        file,
        Clock.now() + "  " + question + ": " + answer + "\n",
        StandardOpenOption.CREATE,
        StandardOpenOption.APPEND);
  }

  /** Written aside, forced to the disk and renamed: the old file or the new one, never half. */
  private static void keep(Path file, String text) throws IOException {
    Path aside = file.resolveSibling(file.getFileName() + ".new");
    Files.createDirectories(aside.toAbsolutePath().getParent());
    Files.write(aside, text.getBytes(StandardCharsets.UTF_8));
    try (FileChannel channel = FileChannel.open(aside, StandardOpenOption.WRITE)) {
      channel.force(true);
    }
    Files.move(aside, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
  }

  /** Whether the bench may decide the trials of a plan. */
  BenchStanding standing(Plan plan, LocalDate today) throws PlanException, UsageException {
    if (bench.simulated()) {
      return BenchStanding.SIMULATED;
    }
    Calibrations calibrations = calibrations();
    ProofRecord proof = proof();
    Budget budget = StopBudget.of(calibrations, proof, plan.trial(0));
    MonteCarlo drawn = budget.monteCarlo(plan.head().seed(), MonteCarlo.TRIALS, Budget.COVERAGE);
    BenchStanding standing =
        BenchStanding.of(
            bench,
            proof,
            calibrations,
            budget.stated(drawn),
            plan.head().toleranceMicrons(),
            today);
    return ToothSteps.areWantedBy(plan.trial(0).scene())
        ? standing.needing(Quantity.CAPACITORS, calibrations)
        : standing;
  }

  /** The bench and what is on record of it, value by value; none where they do not count. */
  SortedMap<String, String> items() throws PlanException, UsageException {
    SortedMap<String, String> items = new TreeMap<>();
    if (counts) {
      items.putAll(RecordItems.of(bench));
      items.putAll(RecordItems.of(calibrations(), proof()));
    }
    return items;
  }

  /** Puts what is in force into the run file, so that the report needs nothing else. */
  void note(RunFile file, BenchStanding standing)
      throws PlanException, UsageException, RunFileException {
    note(file);
    if (counts && !standing.reasons().isEmpty()) {
      noteOnce(
          file,
          BenchSection.WITHHELD,
          standing.reasons().stream()
              .map(r -> r.cause() + ": " + r.text())
              .collect(Collectors.joining("\n")));
    }
  }

  /** The records alone; where nothing has changed since the last time nothing is written. */
  void note(RunFile file) throws PlanException, UsageException, RunFileException {
    if (!counts) {
      return;
    }
    Calibrations calibrations = calibrations();
    if (!calibrations.records().isEmpty()) {
      noteOnce(file, BenchSection.CALIBRATION, CalibrationFile.text(calibrations));
    }
    ProofRecord proof = proof();
    if (proof != null) {
      noteOnce(file, BenchSection.PROOF, ProofFile.text(proof));
    }
  }

  /** A note is written when it says something new: resuming repeats nothing. */
  private static void noteOnce(RunFile file, String kind, String text) throws RunFileException {
    Optional<String> last =
        file.notes().stream()
            .filter(n -> n.kind().equals(kind))
            .map(RunFile.Note::text)
            .reduce((earlier, later) -> later);
    if (last.filter(text::equals).isEmpty()) {
      file.note(kind, text);
    }
  }
}
