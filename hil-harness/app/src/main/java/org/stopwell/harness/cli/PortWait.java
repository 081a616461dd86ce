package org.stopwell.harness.cli;

import java.util.EnumSet;
import java.util.Set;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.time.MachineClock;
import picocli.CommandLine.Option;

/** How long a campaign waits for a port that has vanished. */
final class PortWait {
  private static final String NAME = "--port-wait-s";
  private static final int MOST_S = 3600;

  /** From one look at the port to the next, ns (assumed: a plug takes longer). */
  private static final long LOOK_NS = 100_000_000;

  /** What a port says between the plug and the moment at which the system has set it up. */
  private static final Set<RigFault> AWAY =
      EnumSet.of(
          RigFault.PORT_MISSING, RigFault.PORT_GONE, RigFault.PORT_DENIED, RigFault.PORT_BUSY);

  @Option(
      names = NAME,
      paramLabel = "N",
      description =
          "How long a running campaign waits for a port that has vanished, such as that of a pulled"
              + " plug; 0 to 3600 s, ${DEFAULT-VALUE} unless told. The trial in which it vanished is"
              + " a rig fault.",
      defaultValue = "10")
  int seconds = 10;

  /** Refuses a time that cannot be. */
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
    return () -> open(maker, stop, say);
  }

  private Bench open(BenchMaker maker, BooleanSupplier stop, Consumer<String> say)
      throws BenchException {
    Deadline end = Deadline.in(seconds * 1_000_000_000L);
    boolean waiting = false;
    while (true) {
      try {
        Bench bench = maker.open();
        if (waiting) {
          say.accept("the port is back; the campaign goes on");
        }
        return bench;
      } catch (BenchException e) {
        if (!AWAY.contains(e.fault()) || stop.getAsBoolean()) {
          throw e;
        }
        if (end.passed()) {
          throw new BenchException(
              e.fault(), e.getMessage() + "; waited " + seconds + " s for it (" + NAME + ")", e);
        }
        if (!waiting) {
          say.accept(e.fault() + ": " + e.getMessage() + "; waits up to " + seconds + " s for it");
        }
        waiting = true;
      }
      MachineClock.waitNs(LOOK_NS);
    }
  }
}
