package org.stopwell.harness.cli;

import java.nio.file.Files;
import java.nio.file.Path;
import org.stopwell.harness.tryout.TryPage;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Writes the page to try by hand. */
@Command(
    name = "try",
    description = {
      "Writes the page to try by hand: push a file into a canal, fill the canal, and watch what two"
          + " readings make of it. The page holds the same controller, motor, hand, fluid and canal"
          + " as the virtual bench. It is simulated.",
      "The page is one file. It needs a browser, and no server and no network. A link in it holds"
          + " the whole scene."
    },
    footer = {"", "Examples:", "  stopwell try", "  stopwell try --out page.html"},
    mixinStandardHelpOptions = true)
final class TryCommand extends StopwellCommand {
  @Option(
      names = "--out",
      paramLabel = "FILE",
      description = "File to write; it replaces an older one. Default: ${DEFAULT-VALUE}.",
      defaultValue = "try.html")
  Path file = Path.of("try.html");

  @Override
  public Integer call() throws Exception {
    Path folder = file.toAbsolutePath().getParent();
    if (Files.isDirectory(file) || folder == null || !Files.isDirectory(folder)) {
      throw new UsageException("--out " + file + ": give a file in a directory that exists");
    }
    Files.writeString(file, TryPage.assembled().html());
    out().println(file + ": open it with a browser, " + file.toAbsolutePath().toUri());
    return 0;
  }
}
