package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.stopwell.harness.advice.BenchNeeds;
import org.stopwell.harness.advice.IdleKeys;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.campaign.Campaign;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.campaign.ToothDesk;
import org.stopwell.harness.campaign.ZeroDesk;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.evidence.BadSentinel;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.evidence.SentinelWatch;
import org.stopwell.harness.live.LiveFeed;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.ToothZeroNote;
import org.stopwell.harness.protocol.BlindKey;
import org.stopwell.harness.protocol.Blinding;
import org.stopwell.harness.record.BlindKeyFile;
import org.stopwell.harness.record.ConditionNames;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.report.RunSummary;
import org.stopwell.harness.standing.BenchNotes;
import org.stopwell.harness.standing.BenchRecords;
import org.stopwell.harness.standing.BenchStanding;
import org.stopwell.harness.trial.PolicyFailure;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.time.Utc;

/** Runs a campaign from its first open trial to report and verdict. */
final class Conductor {
  private final Plan plan;
  private final RunFile file;
  private final Path directory;
  private final PrintWriter out;
  private final PrintWriter err;
  private final JsonOption json;
  private final PortWait portWait;
  private final AskOption ask;
  private final Attendant attendant;

  /** From the names of the plan to those of the run file, and back; empty unless blinded. */
  private final Optional<ConditionNames> coding;

  private final Optional<ConditionNames> decoding;

  /** The mounts that were measured since the last call. */
  private Supplier<List<String>> mounts = List::of;

  /**
   * A conductor.
   *
   * @throws RunFileException when the run is blinded and its key is missing
   */
  Conductor(
      Plan plan,
      RunFile file,
      Path directory,
      PrintWriter out,
      PrintWriter err,
      JsonOption json,
      PortWait portWait,
      AskOption ask,
      Attendant attendant)
      throws RunFileException {
    this.plan = plan;
    this.file = file;
    this.directory = directory;
    this.out = out;
    this.err = err;
    this.json = json;
    this.portWait = portWait;
    this.ask = ask;
    this.attendant = attendant;
    RunHeader header = file.header();
    Optional<Blinding> blinding = header.protocol().blinding();
    if (blinding.isPresent()) {
      BlindKey key = BlindKeyFile.read(directory, blinding.get().commitment());
      coding = Optional.of(ConditionNames.coding(header, key));
      decoding = Optional.of(ConditionNames.decoding(header, key));
    } else {
      coding = Optional.empty();
      decoding = Optional.empty();
    }
  }

  /** Refuses a bench that lacks what a plan needs, and lists everything that is missing. */
  static void refuseLacks(Plan plan, Bench bench) throws UsageException {
    List<String> missing = BenchNeeds.missing(plan, bench);
    if (!missing.isEmpty()) {
      throw new UsageException(plan.source().name() + ": " + String.join("\n", missing));
    }
  }

  /** Runs the open trials and returns the exit code. */
  int conduct(Bench bench, BenchMaker maker, int jobs, List<TrialResult> done, BenchRecords kept)
      throws IOException, PlanException {
    try {
      boolean asked = !plan.teeth().isEmpty() && (ask.wanted || !bench.describe().simulated());
      if (!asked) {
        return run(bench, maker, jobs, () -> false, done, kept);
      }
      // One person answers one question after the other.
      Attendant recorded = kept.recording(attendant);
      boolean read =
          ZeroDesk.ask(
              plan,
              BenchNotes.zeros(file.notes()).keySet(),
              recorded,
              note -> file.note(ToothZeroNote.KIND, note.text()));
      ToothDesk desk = new ToothDesk(plan, recorded);
      BooleanSupplier left = read ? desk::isLeft : () -> true;
      mounts = desk::mounted;
      return run(desk.around(bench), desk.around(maker), 1, left, done, kept);
    } catch (PolicyFailure e) {
      throw e;
    } catch (RuntimeException | Error e) {
      throw new ProgramFailure(directory, e);
    }
  }

  private void noteOnce(String idle) throws RunFileException {
    if (file.notes().stream().noneMatch(note -> note.text().equals(idle))) {
      file.note("keys without effect", idle);
    }
  }

  private int run(
      Bench bench,
      BenchMaker maker,
      int jobs,
      BooleanSupplier left,
      List<TrialResult> done,
      BenchRecords kept)
      throws IOException, PlanException {
    BenchStanding standing = kept.standing(plan, file.notes(), Utc.today());
    kept.note(file, standing);
    standing.reasons().forEach(r -> err.println("stopwell: " + r.cause() + ": " + r.text()));
    String idle = IdleKeys.of(plan, bench);
    if (!idle.isEmpty()) {
      err.println("stopwell: " + idle);
      noteOnce(idle);
    }
    Campaign.End end;
    BooleanSupplier stop =
        new StopRequest(directory, () -> Interruption.requested() || left.getAsBoolean());
    try (Progress progress = Progress.of(plan.trials(), done.size());
        LiveFeed live = LiveFeed.begin(directory, file.header(), done)) {
      BenchMaker patient =
          portWait.around(
              maker,
              stop,
              what -> {
                progress.say("stopwell: " + what, err);
                live.say(what);
              });
      end =
          new Campaign(
                  plan,
                  decoding.map(names -> names.of(done)).orElse(done),
                  jobs,
                  stop,
                  finished -> {
                    for (String mount : mounts.get()) {
                      file.note(ToothDesk.MOUNTED, mount);
                    }
                    List<RunFile.Entry> recorded = coded(finished);
                    file.append(recorded);
                    progress.add(finished.size());
                    live.finished(recorded.stream().map(RunFile.Entry::result).toList());
                  })
              .under(standing)
              .watchedBy(live::place)
              .run(bench, patient);
    }
    noteAgain(kept);
    if (end == Campaign.End.DECIDED) {
      file.note("decided", "by the stopping rule of the plan, before its last trial");
    }
    if (end == Campaign.End.COMPLETE || end == Campaign.End.DECIDED) {
      file.finish(Utc.now());
    }
    Evidence evidence = Evidence.of(file, directory);
    RunReport.write(file, evidence, directory);
    CampaignSummary summary = evidence.summary();
    String why =
        switch (end) {
          case COMPLETE, DECIDED -> "";
          case INTERRUPTED -> "interrupted";
          case POLICY_STUCK -> "a policy did not return from a step";
          case RIG_BROKEN -> "the rig failed too often in a row";
          case BAD_SENTINEL -> "a sentinel is bad";
        };
    SentinelWatch.waiting(file.header().protocol(), file.results(), file.notes())
        .ifPresent(bad -> err.println("stopwell: " + seeTo(bad)));
    if (!why.isEmpty()) {
      err.println(
          "stopwell: "
              + why
              + "; "
              + summary.run()
              + " of "
              + summary.planned()
              + " trials are kept in "
              + directory
              + "; continue with: stopwell resume "
              + directory
              + (end == Campaign.End.BAD_SENTINEL ? " --after-service \"what was done\"" : ""));
    }
    RunSummary outcome = new RunSummary(evidence, directory);
    json.print(out, outcome.values(), outcome::print);
    return summary.verdict().exitCode();
  }

  private List<RunFile.Entry> coded(List<RunFile.Entry> finished) {
    return coding
        .map(
            names ->
                finished.stream()
                    .map(e -> new RunFile.Entry(names.of(e.result()), e.trace()))
                    .toList())
        .orElse(finished);
  }

  /** The records can have changed during the campaign; its trials are safe nevertheless. */
  private void noteAgain(BenchRecords kept) throws RunFileException {
    try {
      kept.note(file);
    } catch (PlanException e) {
      String why =
          "could not be read at the end: " + String.valueOf(e.getMessage()).replace('\n', ' ');
      err.println("stopwell: the records of the bench " + why);
      file.note(BenchNotes.UNREADABLE, why);
    }
  }

  /** The action that a bad sentinel requires. */
  static String seeTo(BadSentinel bad) {
    return bad.sentence()
        + " Find and correct the change at the bench, then check it with stopwell rig prove."
        + " All finished trials are kept, and none is repeated.";
  }
}
