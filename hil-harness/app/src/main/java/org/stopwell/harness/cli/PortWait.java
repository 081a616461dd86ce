package org.stopwell.harness.cli;

import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.campaign.PatientMaker;
import picocli.CommandLine.Option;

/** How long a campaign waits for a port that has vanished. */
final class PortWait {
  private static final String NAME = "--port-wait-s";
  private static final int MOST_S = 3600;

  @Option(
      names = NAME,
      paramLabel = "N",
      description =
          "How long a running campaign waits for a port that vanished, for example an"
              + " unplugged cable; 0 to 3600 s. Default: ${DEFAULT-VALUE}. The trial in progress"
              + " is a rig fault.",
      defaultValue = "10")
  int seconds = 10;

  /** Refuses an invalid time. */
  void checked() throws UsageException {
    if (!(seconds >= 0 && seconds <= MOST_S)) {
      throw new UsageException(NAME + " " + seconds + " is outside 0 to " + MOST_S + " s");
    }
  }

  /**
   * Makes the same benches, and waits for a port that is away.
   *
   * @param maker makes them
   * @param stop asked all the time; true ends the wait
   * @param say receives what is waited for, once, and that it is back
   */
  BenchMaker around(BenchMaker maker, BooleanSupplier stop, Consumer<String> say) {
    return new PatientMaker(maker, seconds, NAME, stop, say);
  }
}
