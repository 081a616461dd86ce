package org.stopwell.rig.dut;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Decider;
import org.stopwell.rig.bench.DutException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.ProgramEnd;
import org.stopwell.rig.serial.Link;

/**
 * A bench that plays canal, motor and hand, with a board that decides. Board and bench go in
 * lockstep: nothing moves while the board works, and its own clock says how long it took.
 */
public final class DutBench extends ForwardingBench {
  private static final String KIND = "dut";

  /** A request is repeated after so long, ns; assumed: longer than the watchdog of a board. */
  private static final long TRY_NS = 500_000_000;

  private final Link link;
  private final Dut dut;
  private @Nullable DutIdentity board;

  /**
   * A bench that is not open yet.
   *
   * @param played what plays canal, motor and hand
   * @param link line to the board
   * @param builds gives the build fingerprint of the controller exported with some settings
   */
  public DutBench(Bench played, Link link, DutBuild builds) {
    this(played, link, builds, TRY_NS);
  }

  DutBench(Bench played, Link link, DutBuild builds, long tryNs) {
    super(played);
    this.link = link;
    dut = new Dut(new DutLine(link, tryNs), builds, played.describe().periodNs());
  }

  @Override
  public BenchDescription describe() {
    BenchDescription played = bench.describe();
    DutIdentity there = board;
    return new BenchDescription(
        KIND,
        there == null ? "" : there.name(),
        there == null ? "" : there.controller(),
        played.simulated(),
        played.lockstep(),
        played.periodNs());
  }

  @Override
  public void open() throws BenchException {
    ProgramEnd.opening(this);
    try {
      link.open();
      board = dut.who();
      bench.open();
    } catch (DutException e) {
      close();
      throw new BenchException(RigFault.NO_ANSWER, String.valueOf(e.getMessage()), e);
    } catch (BenchException e) {
      close();
      throw e;
    }
  }

  @Override
  public Optional<Decider> decider() {
    return Optional.of(dut);
  }

  @Override
  public void safeStop() {
    dut.off();
    bench.safeStop();
  }

  @Override
  public void close() {
    safeStop();
    link.close();
    bench.close();
    ProgramEnd.closed(this);
  }
}
