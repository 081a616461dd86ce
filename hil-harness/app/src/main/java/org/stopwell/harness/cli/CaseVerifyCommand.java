package org.stopwell.harness.cli;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.RecordCheck;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Checks the record of a case. */
@Command(
    name = "verify",
    description = {
      "Checks every line of the record of a case against the chain of SHA-256 and names the first"
          + " line that does not fit. Lines that were removed at the end leave the chain whole:"
          + " --head compares it with the head that is printed on a page.",
      "The chain does not prove who wrote the record.",
      "",
      "Exit codes: 0 every line fits; 1 a line does not fit, or the head is another; 5 the last line"
          + " was cut."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell case verify tooth-36",
      "  stopwell case verify tooth-36 --head 3f2a9c1b7d44"
    },
    mixinStandardHelpOptions = true)
final class CaseVerifyCommand extends StopwellCommand {
  /** Least digits of a head that is compared; assumed: chance finds one in 2^32. */
  private static final int LEAST_DIGITS = 8;

  @Parameters(paramLabel = "DIR", description = "Directory of the case.")
  Path directory = Path.of("");

  @Option(
      names = "--head",
      paramLabel = "HEX",
      description = "Head of the chain as it was written down, or its first 8 digits or more.")
  @Nullable String head;

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    if (head != null && !head.matches("[0-9a-f]{" + LEAST_DIGITS + ",64}")) {
      throw new UsageException("--head " + head + ": give 8 to 64 hexadecimal digits");
    }
    if (!Files.isDirectory(directory)) {
      throw new UsageException(directory + ": no such directory");
    }
    Path file = directory.resolve(CaseRecord.FILE);
    RecordCheck found = CaseRecord.verify(directory);
    boolean other = head != null && !found.head().startsWith(head);
    Verdict verdict =
        found.fault().isPresent() || other
            ? Verdict.FAIL
            : found.torn().isEmpty() ? Verdict.PASS : Verdict.UNDECIDED;
    String sentence =
        found
            .fault()
            .map(fault -> file + ":" + fault)
            .orElse(
                other
                    ? "the head of the chain is another than "
                        + head
                        + ": entries are missing or"
                        + " were added"
                    : found.torn().isEmpty()
                        ? found.entries().size() + " entries are unchanged"
                        : file
                            + ":"
                            + (found.entries().size() + 1)
                            + ": was cut, while it was written or later; the next step sets it"
                            + " apart in "
                            + CaseRecord.TORN_FILE);
    Map<String, Object> values = new LinkedHashMap<>();
    values.put("verdict", verdict.name());
    values.put("entries", found.entries().size());
    values.put("head", found.head());
    values.put("finding", sentence);
    json.print(
        out(),
        values,
        line -> {
          line.accept(verdict + ": " + sentence);
          line.accept("head of the chain " + found.head());
        });
    return verdict.exitCode();
  }
}
