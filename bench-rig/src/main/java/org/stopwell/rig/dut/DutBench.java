package org.stopwell.rig.dut;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Decider;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.DutException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.ProgramEnd;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.serial.Link;
import org.stopwell.rig.virtual.TwinStand;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * A bench that plays canal, motor and hand, with a board that decides. Board and bench go in
 * lockstep: nothing moves while the board works, and its own clock says how long it took.
 */
public final class DutBench extends ForwardingBench {
  private static final String KIND = "dut";

  /** A request is repeated after so long, ns; assumed: longer than the watchdog of a board. */
  private static final long TRY_NS = 500_000_000;

  private final List<Link> links;
  private final TwinStand clamp;
  private final List<Dut> duts = new ArrayList<>();
  private final Boards boards;
  private final List<DutIdentity> found = new ArrayList<>();

  /**
   * A bench that is not open yet.
   *
   * @param played what plays canal, motor and hand
   * @param links a line to each board; each trial goes to the board that holds its settings
   * @param builds gives the build fingerprint of the controller exported with some settings
   */
  public DutBench(VirtualBench played, List<? extends Link> links, DutBuild builds) {
    this(played, links, builds, TRY_NS);
  }

  DutBench(VirtualBench played, List<? extends Link> links, DutBuild builds, long tryNs) {
    super(played);
    this.links = List.copyOf(links);
    clamp = played.stand();
    long periodNs = played.describe().periodNs();
    links.forEach(l -> duts.add(new Dut(new DutLine(l, tryNs), builds, periodNs, clamp)));
    boards = new Boards(duts);
  }

  private String each(Function<DutIdentity, String> what) {
    return found.stream().map(what).collect(Collectors.joining("; "));
  }

  @Override
  public BenchDescription describe() {
    BenchDescription played = bench.describe();
    return new BenchDescription(
        KIND,
        each(DutIdentity::name),
        each(DutIdentity::controller),
        played.simulated(),
        played.lockstep(),
        played.periodNs());
  }

  @Override
  public void open() throws BenchException {
    ProgramEnd.opening(this);
    try {
      found.clear();
      for (int i = 0; i < duts.size(); i++) {
        links.get(i).open();
        found.add(duts.get(i).who());
      }
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
    return Optional.of(boards);
  }

  /** The board itself is in the clamp, whatever the plan calls it. */
  @Override
  public Optional<DeviceWatch> deviceWatch() {
    return Optional.of(new Clamp(clamp));
  }

  private record Clamp(TwinStand stand) implements DeviceWatch {
    @Override
    public List<String> models() {
      return List.of();
    }

    @Override
    public void attach(ClampedDevice device) {
      stand.attach(device);
    }

    @Override
    public Set<DeviceFault> playable() {
      return stand.playable();
    }

    @Override
    public void play(Optional<DeviceFault> fault) {
      stand.play(fault);
    }

    @Override
    public CircuitCheck circuit() {
      return stand.circuit();
    }

    @Override
    public void drain(List<Watched> into) {
      stand.drain(into);
    }
  }

  @Override
  public void safeStop() {
    duts.forEach(Dut::off);
    bench.safeStop();
  }

  @Override
  public void close() {
    safeStop();
    links.forEach(Link::close);
    bench.close();
    ProgramEnd.closed(this);
  }
}
