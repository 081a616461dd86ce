package org.stopwell.harness.standing;

import java.io.IOException;
import java.io.UncheckedIOException;
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
import org.stopwell.harness.budget.MonteCarlo;
import org.stopwell.harness.budget.StopBudget;
import org.stopwell.harness.budget.UncertaintyBudget;
import org.stopwell.harness.plan.CalibrationFile;
import org.stopwell.harness.plan.Mistake;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.ProofFile;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.calibration.CalibrationJournal;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.ProofRecord;
import org.stopwell.rig.time.Utc;
import org.stopwell.rig.virtual.ToothSteps;

/** Proof and calibrations of one bench, in two files that bear its serial number. */
public final class BenchRecords {
  private final Path calibrationFile;
  private final Path proofFile;
  private final BenchDescription bench;
  private final String name;
  private final boolean counts;

  /**
   * The records of a bench, which belong into freezes and run files.
   *
   * @param directory where the files lie
   * @param bench the bench
   */
  public BenchRecords(Path directory, BenchDescription bench) {
    this(directory, bench, true);
  }

  /**
   * The records of a bench.
   *
   * @param directory where the files lie
   * @param bench the bench
   * @param counts whether they belong into freezes and run files; those of a simulated bench only
   *     when somebody asks for them
   */
  public BenchRecords(Path directory, BenchDescription bench, boolean counts) {
    this.counts = counts;
    this.name = bench.serialNumber().replaceAll("[^A-Za-z0-9._-]", "_");
    this.calibrationFile = directory.resolve(name + ".calibration.yaml");
    this.proofFile = directory.resolve(name + ".proof.yaml");
    this.bench = bench;
  }

  /**
   * Where the calibrations lie.
   *
   * @return the file, there or not
   */
  public Path calibrationFile() {
    return calibrationFile;
  }

  /**
   * Where the newest proof lies.
   *
   * @return the file, there or not
   */
  public Path proofFile() {
    return proofFile;
  }

  /**
   * The calibrations.
   *
   * @return none when there is no file
   * @throws PlanException when the file is wrong, or of another bench
   */
  public Calibrations calibrations() throws PlanException {
    if (!Files.exists(calibrationFile)) {
      return new Calibrations(bench.serialNumber(), List.of());
    }
    Calibrations read = CalibrationFile.read(Source.of(calibrationFile));
    if (!read.bench().equals(bench.serialNumber())) {
      String whose = "is of bench " + read.bench() + ", this is " + bench.serialNumber();
      throw new PlanException(List.of(new Mistake(calibrationFile.toString(), 0, "", whose)));
    }
    return read;
  }

  /**
   * The newest proof.
   *
   * @return null when there is none
   * @throws PlanException when the file is wrong
   */
  public @Nullable ProofRecord proof() throws PlanException {
    return Files.exists(proofFile) ? ProofFile.read(Source.of(proofFile)) : null;
  }

  /**
   * Keeps the calibrations.
   *
   * @param calibrations all of them
   * @throws IOException when the disk refuses
   */
  public void keep(Calibrations calibrations) throws IOException {
    keep(calibrationFile, CalibrationFile.text(calibrations));
  }

  /**
   * Stores a proof; the previous proof stays beside it, under its date.
   *
   * @param proof the new one
   * @throws IOException when the disk refuses
   * @throws PlanException when the one before it cannot be read
   */
  public void keep(ProofRecord proof) throws IOException, PlanException {
    ProofRecord before = proof();
    if (before != null) {
      String name = String.valueOf(proofFile.getFileName());
      keep(
          proofFile.resolveSibling(name.replace(".yaml", "." + before.date() + ".yaml")),
          ProofFile.text(before));
    }
    keep(proofFile, ProofFile.text(proof));
  }

  /**
   * The readings of steps that are not finished.
   *
   * @return their journal
   */
  public CalibrationJournal journal() {
    return new CalibrationJournal(
        calibrationFile.resolveSibling(name + ".unfinished.txt"), Instant.parse(Utc.now()));
  }

  /**
   * Stores the readings of a gauge study; earlier studies stay.
   *
   * @param csv the readings
   * @return the file
   * @throws IOException when the disk refuses
   */
  public Path keepGauge(String csv) throws IOException {
    Path file =
        calibrationFile.resolveSibling(name + ".gauge." + Utc.now().replace(":", "") + ".csv");
    keep(file, csv);
    return file;
  }

  /**
   * Records a typed answer at once, whether valid or not, used or not.
   *
   * @param question what was asked
   * @param answer what was typed
   * @throws IOException when the disk refuses
   */
  public void typed(String question, String answer) throws IOException {
    Path file = calibrationFile.resolveSibling(name + ".typed.txt");
    Files.createDirectories(file.toAbsolutePath().getParent());
    Files.writeString(
        file,
        Utc.now() + "  " + question + ": " + answer + "\n",
        StandardOpenOption.CREATE,
        StandardOpenOption.APPEND);
  }

  /**
   * The same attendant, whose answers are recorded at once.
   *
   * @param attendant who answers
   * @return the attendant with a record
   */
  public Attendant recording(Attendant attendant) {
    return new Attendant() {
      @Override
      public void tell(String text) {
        attendant.tell(text);
      }

      @Override
      public Optional<String> answer(Question question) {
        Optional<String> answer = attendant.answer(question);
        try {
          if (answer.isPresent()) {
            typed(question.text(), answer.get());
          }
        } catch (IOException e) {
          throw new UncheckedIOException("the typed values cannot be recorded", e);
        }
        return answer;
      }
    };
  }

  /**
   * Writes a temporary file, forces it to the disk and renames it: readers see the old or the new
   * file, never a part.
   */
  private static void keep(Path file, String text) throws IOException {
    Path aside = file.resolveSibling(file.getFileName() + ".new");
    Files.createDirectories(aside.toAbsolutePath().getParent());
    Files.write(aside, text.getBytes(StandardCharsets.UTF_8));
    try (FileChannel channel = FileChannel.open(aside, StandardOpenOption.WRITE)) {
      channel.force(true);
    }
    Files.move(aside, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
  }

  /**
   * Whether the bench may decide the trials of a plan.
   *
   * @param plan the plan
   * @param today the date
   * @return every reason why it may not
   * @throws PlanException when a record is wrong
   */
  public BenchStanding standing(Plan plan, LocalDate today) throws PlanException {
    return standing(plan, List.of(), today);
  }

  /**
   * Whether the bench may decide the trials of a plan.
   *
   * @param plan the plan
   * @param notes notes of its run file, with true zeros that were read at the bench
   * @param today the date
   * @return every reason why it may not
   * @throws PlanException when a record is wrong
   */
  public BenchStanding standing(Plan plan, List<RunFile.Note> notes, LocalDate today)
      throws PlanException {
    if (bench.simulated()) {
      return BenchStanding.SIMULATED;
    }
    Calibrations calibrations = calibrations();
    ProofRecord proof = proof();
    UncertaintyBudget budget =
        StopBudget.of(
            calibrations, proof, StopBudget.Basis.of(plan).with(BenchNotes.zeroMicrons(notes)));
    MonteCarlo drawn =
        budget.monteCarlo(plan.head().seed(), MonteCarlo.TRIALS, UncertaintyBudget.COVERAGE);
    BenchStanding standing =
        BenchStanding.of(
            bench,
            plan.isExternal() ? Quantity.Group.DEVICE : Quantity.Group.CONTROLLER,
            proof,
            calibrations,
            budget.stated(drawn),
            plan.head().toleranceMicrons(),
            today);
    return ToothSteps.areWantedBy(plan.trial(0).scene())
        ? standing.needing(Quantity.CAPACITORS, calibrations)
        : standing;
  }

  /**
   * The bench and what is on record of it, value by value.
   *
   * @return none where they do not count
   * @throws PlanException when a record is wrong
   */
  public SortedMap<String, String> items() throws PlanException {
    SortedMap<String, String> items = new TreeMap<>();
    if (counts) {
      items.putAll(RecordItems.of(bench));
      items.putAll(RecordItems.of(calibrations(), proof()));
    }
    return items;
  }

  /**
   * Writes the records in force into the run file, so that the report needs nothing else.
   *
   * @param file the run file
   * @param standing whether the bench may decide
   * @throws PlanException when a record is wrong
   * @throws RunFileException when the disk refuses
   */
  public void note(RunFile file, BenchStanding standing) throws PlanException, RunFileException {
    note(file);
    if (counts && !standing.reasons().isEmpty()) {
      noteOnce(
          file,
          BenchNotes.WITHHELD,
          standing.reasons().stream()
              .map(r -> r.cause() + ": " + r.text())
              .collect(Collectors.joining("\n")));
    }
  }

  /**
   * Writes the records alone; writes nothing if they are unchanged.
   *
   * @param file the run file
   * @throws PlanException when a record is wrong
   * @throws RunFileException when the disk refuses
   */
  public void note(RunFile file) throws PlanException, RunFileException {
    if (!counts) {
      return;
    }
    Calibrations calibrations = calibrations();
    if (!calibrations.records().isEmpty()) {
      noteOnce(file, BenchNotes.CALIBRATION, CalibrationFile.text(calibrations));
    }
    ProofRecord proof = proof();
    if (proof != null) {
      noteOnce(file, BenchNotes.PROOF, ProofFile.text(proof));
    }
  }

  /** Writes a note only if it is new, so that resume repeats nothing. */
  private static void noteOnce(RunFile file, String kind, String text) throws RunFileException {
    if (BenchNotes.newest(file.notes(), kind).filter(text::equals).isEmpty()) {
      file.note(kind, text);
    }
  }
}
