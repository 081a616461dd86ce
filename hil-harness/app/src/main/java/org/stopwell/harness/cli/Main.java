package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.breaking.BreakException;
import org.stopwell.harness.casework.CaseRecordException;
import org.stopwell.harness.casework.StepRefusedException;
import org.stopwell.harness.explore.BrokenPolicyException;
import org.stopwell.harness.explore.EngineException;
import org.stopwell.harness.length.LengthFileException;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.protocol.Freeze;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.sign.KeyFileException;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.harness.trial.PolicyFailure;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.calibration.Attendant;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.IExecutionExceptionHandler;
import picocli.CommandLine.IParameterExceptionHandler;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.ParseResult;
import picocli.CommandLine.ScopeType;
import picocli.CommandLine.UnmatchedArgumentException;

/** The program. */
@Command(
    name = "stopwell",
    header =
        "Tests whether a motor-driven root-canal file stops at the standoff, the set distance short of the foramen, and whether the controller refuses without a valid reading.",
    description = {
      "",
      "Bench and research use only. Not a medical device; not for use on a person. A software stop is"
          + " not a safety function.",
      ""
    },
    footer = {
      "",
      "Examples:",
      "  stopwell run docs/plans/first-stop.yaml         a campaign on the virtual bench",
      "  stopwell check docs/plans/*.yaml                are these plans valid?",
      "  stopwell replay runs/first-stop-001 --trial 17  does this build give the same"
          + " result?",
      "  stopwell run PLAN --bench serial --port /dev/ttyUSB0",
      "",
      "Exit codes: 0 PASS, 1 FAIL, 2 wrong usage, plan or settings, 3 RIG_FAULT, 4 SAFETY_STOP,"
          + " 5 UNDECIDED, 6 the program failed, which says nothing about controller or rig."
    },
    subcommands = {
      FreezeCommand.class,
      RunCommand.class,
      ResumeCommand.class,
      ReportCommand.class,
      ImportCommand.class,
      CompareCommand.class,
      UnblindCommand.class,
      ReplayCommand.class,
      TriageCommand.class,
      CheckCommand.class,
      VerifyCommand.class,
      KeyCommand.class,
      SignCommand.class,
      ExportCommand.class,
      SizeCommand.class,
      ProveStatisticsCommand.class,
      SentinelCommand.class,
      DetectCommand.class,
      ExploreCommand.class,
      RareCommand.class,
      BreakCommand.class,
      TuneCommand.class,
      LengthCommand.class,
      CaseCommand.class,
      FluidCommand.class,
      RigCommand.class,
      AssessCommand.class,
      LearnCommand.class,
      ConsoleCommand.class,
      TryCommand.class
    },
    versionProvider = Build.class,
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND")
public final class Main implements Runnable {
  /** Exit code for wrong usage, a wrong plan or wrong settings. */
  static final int WRONG_INPUT = 2;

  @CommandLine.Spec private CommandLine.Model.@Nullable CommandSpec spec;

  @Option(
      names = "--extensions",
      paramLabel = "DIR-OR-JAR",
      scope = ScopeType.INHERIT,
      description = "Own policies and benches: a jar or a directory of classes. Can be repeated.")
  private List<Path> places = new ArrayList<>();

  private Extensions extensions = Extensions.NONE;

  /** Who answers the questions of a bench; nobody given: whoever types at the terminal. */
  private @Nullable Attendant attendant;

  /** The program without a command. */
  public Main() {}

  /**
   * Starts the program.
   *
   * @param args the command line
   */
  public static void main(String[] args) {
    try {
      Interruption.begin();
      PrintWriter err = writer(System.err);
      Thread.setDefaultUncaughtExceptionHandler((thread, failure) -> lost(failure, err));
      int code = run(args, writer(System.out), err);
      Interruption.finished(code);
      System.exit(Interruption.launched(code));
    } catch (Throwable e) {
      System.err.println("stopwell: the program failed");
    } finally {
      // Reached where there is no memory even for a message. Of itself Java would end with 1: FAIL.
      Runtime.getRuntime().halt(Verdict.PROGRAM_FAILED);
    }
  }

  /** A thread of the program died: what depends on it would only look like a fault of the rig. */
  private static void lost(Throwable failure, PrintWriter err) {
    Interruption.fail();
    ProgramFailure.report(failure, err);
    System.exit(Interruption.launched(Verdict.PROGRAM_FAILED));
  }

  private static PrintWriter writer(java.io.PrintStream stream) {
    return new PrintWriter(
        new java.io.OutputStreamWriter(stream, StandardCharsets.UTF_8), /* autoFlush= */ true);
  }

  /**
   * Runs one command.
   *
   * @param args the command line
   * @param out receives results
   * @param err receives progress and errors
   * @return the exit code
   */
  public static int run(String[] args, PrintWriter out, PrintWriter err) {
    return run(args, out, err, null);
  }

  /**
   * Runs one command for somebody who is not at the terminal.
   *
   * @param args the command line
   * @param out receives results
   * @param err receives progress and errors
   * @param attendant answers the questions of a bench, or null for the terminal
   * @return the exit code
   */
  static int run(String[] args, PrintWriter out, PrintWriter err, @Nullable Attendant attendant) {
    try {
      return execute(args, out, err, attendant);
    } catch (Error e) {
      return ProgramFailure.report(e, err);
    } finally {
      out.flush();
      err.flush();
    }
  }

  private static int execute(
      String[] args, PrintWriter out, PrintWriter err, @Nullable Attendant attendant) {
    Main main = new Main();
    main.attendant = attendant;
    CommandLine line = new CommandLine(main);
    line.setOut(out).setErr(err);
    line.setUsageHelpWidth(100).setUsageHelpLongOptionsMaxWidth(28);
    line.setCaseInsensitiveEnumValuesAllowed(true);
    line.setExecutionStrategy(parsed -> main.execute(parsed, err));
    line.setParameterExceptionHandler(new WrongUsage());
    line.setExecutionExceptionHandler(new Failure());
    return line.execute(args);
  }

  /** Finds the extensions first: what is wrong with them is wrong whatever the command does. */
  private int execute(ParseResult parsed, PrintWriter err) {
    try {
      extensions = Extensions.load(places);
    } catch (UsageException e) {
      err.println("stopwell: " + e.getMessage());
      return WRONG_INPUT;
    }
    return new CommandLine.RunLast().execute(parsed);
  }

  /** The extensions that a command was given. */
  static Extensions extensions(CommandLine.Model.CommandSpec command) {
    return command.root().userObject() instanceof Main main ? main.extensions : Extensions.NONE;
  }

  /** Who answers the questions of a bench. */
  static Attendant attendant(CommandLine.Model.CommandSpec command) {
    return command.root().userObject() instanceof Main main && main.attendant != null
        ? main.attendant
        : new TypedAnswers(System.in, command.commandLine().getErr());
  }

  /** The policies that settings may name. */
  static Policies policies(CommandLine.Model.@Nullable CommandSpec command) {
    return command == null ? Policies.BUILT_IN : extensions(command).policies();
  }

  @Override
  public void run() {
    throw new ParameterException(
        java.util.Objects.requireNonNull(spec).commandLine(), "a command is missing");
  }

  /** Wrong usage prints one or two lines, not a page of help. */
  private static final class WrongUsage implements IParameterExceptionHandler {
    @Override
    public int handleParseException(ParameterException e, String[] args) {
      CommandLine line = e.getCommandLine();
      PrintWriter err = line.getErr();
      err.println("stopwell: " + firstLine(e));
      UnmatchedArgumentException.printSuggestions(e, err);
      err.println("Try: " + line.getCommandSpec().qualifiedName() + " --help");
      return WRONG_INPUT;
    }
  }

  /** An expected failure prints one line per mistake; an unexpected one prints a report. */
  private static final class Failure implements IExecutionExceptionHandler {
    @Override
    public int handleExecutionException(Exception e, CommandLine line, ParseResult parsed) {
      PrintWriter err = line.getErr();
      if (e instanceof PlanException wrong) {
        wrong.mistakes().forEach(err::println);
        return WRONG_INPUT;
      }
      if (e instanceof PolicyFailure policy) {
        err.println("stopwell: " + firstLine(policy));
        return Verdict.FAIL.exitCode();
      }
      if (e instanceof BrokenPolicyException policy) {
        err.println("stopwell: " + firstLine(policy));
        return Verdict.FAIL.exitCode();
      }
      if (e instanceof BreakException wrong) {
        wrong.mistakes().forEach(mistake -> err.println("stopwell: " + mistake));
        return WRONG_INPUT;
      }
      if (e instanceof UsageException wrong) {
        err.println("stopwell: " + firstLine(wrong));
        return WRONG_INPUT;
      }
      if (e instanceof TraceException wrong) {
        wrong.mistakes().forEach(err::println);
        return WRONG_INPUT;
      }
      if (e instanceof LengthFileException wrong) {
        wrong.mistakes().forEach(err::println);
        return WRONG_INPUT;
      }
      if (e instanceof EngineException engine) {
        err.println("stopwell: " + firstLine(engine));
        return engine.begun() ? Verdict.PROGRAM_FAILED : WRONG_INPUT;
      }
      if (e instanceof BenchException && Interruption.requested()) {
        err.println("stopwell: interrupted");
        return Verdict.UNDECIDED.exitCode();
      }
      if (e instanceof BenchException broken) {
        err.println("stopwell: " + broken.fault() + ": " + firstLine(broken));
        return Verdict.RIG_FAULT.exitCode();
      }
      if (e instanceof Freeze.FreezeException frozen) {
        err.println("stopwell: " + firstLine(frozen));
        return WRONG_INPUT;
      }
      if (e instanceof KeyFileException key) {
        err.println("stopwell: " + firstLine(key));
        return WRONG_INPUT;
      }
      if (e instanceof StepRefusedException refused) {
        err.println("stopwell: UNDECIDED: " + firstLine(refused));
        return Verdict.UNDECIDED.exitCode();
      }
      if (e instanceof CaseRecordException record) {
        err.println("stopwell: " + firstLine(record));
        return record.kind() == CaseRecordException.Kind.HELD
            ? WRONG_INPUT
            : Verdict.RIG_FAULT.exitCode();
      }
      if (e instanceof RunFileException file) {
        err.println("stopwell: " + firstLine(file));
        return exitCode(file);
      }
      if (e instanceof IOException disk) {
        err.println("stopwell: " + firstLine(disk));
        return Verdict.RIG_FAULT.exitCode();
      }
      return ProgramFailure.report(e, err);
    }

    private static int exitCode(RunFileException e) {
      return switch (e.kind()) {
        case MISSING, EXISTS, FOREIGN, NEWER, OLDER, FINISHED, HELD -> WRONG_INPUT;
        case DAMAGED, BUSY, DISK_FULL, DISK -> Verdict.RIG_FAULT.exitCode();
      };
    }
  }

  private static String firstLine(Exception e) {
    return List.of(String.valueOf(e.getMessage()).split("\\R", 2)).get(0);
  }
}
