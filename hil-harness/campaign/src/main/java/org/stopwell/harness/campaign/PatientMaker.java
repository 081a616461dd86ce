package org.stopwell.harness.campaign;

import java.util.EnumSet;
import java.util.Set;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.time.MachineClock;

/**
 * Makes the same benches as another, and waits for a port that is away.
 *
 * @param maker makes them
 * @param seconds longest wait, s
 * @param option what the person who waits can change, such as {@code --port-wait-s}
 * @param stop asked all the time; true ends the wait
 * @param say receives what is waited for, once, and that it is back
 */
public record PatientMaker(
    BenchMaker maker, int seconds, String option, BooleanSupplier stop, Consumer<String> say)
    implements BenchMaker {
  /** Time between two checks of the port, ns (assumed: shorter than a reconnection). */
  private static final long LOOK_NS = 100_000_000;

  /** The errors of a port between reconnection and the end of its set-up by the system. */
  private static final Set<RigFault> AWAY =
      EnumSet.of(
          RigFault.PORT_MISSING, RigFault.PORT_GONE, RigFault.PORT_DENIED, RigFault.PORT_BUSY);

  @Override
  public Bench open() throws BenchException {
    Deadline end = Deadline.in(seconds * 1_000_000_000L);
    boolean waiting = false;
    while (true) {
      try {
        Bench bench = maker.open();
        if (waiting) {
          say.accept("the port is back; the campaign continues");
        }
        return bench;
      } catch (BenchException e) {
        if (!AWAY.contains(e.fault()) || stop.getAsBoolean()) {
          throw e;
        }
        if (end.passed()) {
          throw new BenchException(
              e.fault(), e.getMessage() + "; waited " + seconds + " s for it (" + option + ")", e);
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
