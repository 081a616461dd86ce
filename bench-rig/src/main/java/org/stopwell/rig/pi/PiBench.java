package org.stopwell.rig.pi;

import java.util.List;
import java.util.function.LongSupplier;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.bench.ProgramEnd;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.time.MachineClock;

/**
 * A bench whose motor hangs on the pins of a Raspberry Pi and whose canal is another bench, usually
 * the canal board at a serial port: the canal gives the position, the pins give speed, torque and
 * the stop line.
 */
public final class PiBench implements Bench {
  private static final long WATCH_NS = 5_000_000;
  private static final long PERIOD_NS = 1_000_000;

  private final PiStation station;
  private final PinSource source;
  private final Bench canal;
  private final LongSupplier clock;
  private final Truth truth = new Truth();
  private volatile @Nullable PiHardware hardware;
  private volatile long commandedNs;
  private volatile boolean watchdog;
  private volatile boolean stopped = true;
  private boolean mounted;
  private long newestNs;

  /** Where the pins come from. */
  interface PinSource {
    /** Takes hold of them. */
    Pins open() throws BenchException;
  }

  /**
   * A bench that is not yet open.
   *
   * @param station what is wired to which pin
   * @param canal the bench that has the canal in it
   */
  public PiBench(PiStation station, Bench canal) {
    this(station, canal, () -> Pi4jPins.open(station.pwmDevice()), MachineClock::nowNs);
  }

  PiBench(PiStation station, Bench canal, PinSource source, LongSupplier clock) {
    this.station = station;
    this.canal = canal;
    this.source = source;
    this.clock = clock;
  }

  @Override
  public BenchDescription describe() {
    BenchDescription board = canal.describe();
    return new BenchDescription(
        "pi",
        board.serialNumber(),
        "pins of this computer; canal: " + board.firmware(),
        board.simulated(),
        false,
        Math.max(PERIOD_NS, board.periodNs()),
        station.setup());
  }

  /** The pins turn the file, a person moves the stage; the rest comes from the canal. */
  @Override
  public List<Lack> lacks() {
    return canal.lacks().stream()
        .filter(
            l ->
                l.ability() == Ability.POSITION
                    || l.ability() == Ability.TRUTH
                    || l.ability() == Ability.TOOTH)
        .toList();
  }

  @Override
  public void open() throws BenchException {
    canal.open();
    PiHardware opened;
    try {
      ProgramEnd.opening(this);
      opened = new PiHardware(source.open(), station, clock);
    } catch (BenchException e) {
      canal.close();
      ProgramEnd.closed(this);
      throw e;
    }
    hardware = opened;
    stopped = true;
    Thread watch = new Thread(() -> watch(opened), "pi watchdog");
    watch.setDaemon(true);
    watch.start();
  }

  private void watch(PiHardware watched) {
    while (hardware == watched) {
      checkWatchdog();
      MachineClock.waitNs(WATCH_NS);
    }
  }

  /** Takes the power when the commands have stopped coming. */
  void checkWatchdog() {
    PiHardware open = hardware;
    if (open != null
        && open.motor().turns()
        && clock.getAsLong() - commandedNs > station.watchdogNs()) {
      watchdog = true;
      open.motor().off();
    }
  }

  @Override
  public void mount(Scene scene) throws BenchException {
    PiHardware open = needOpen();
    open.motor().off();
    mounted = false;
    canal.mount(scene);
    open.ready();
    truth.copyFrom(canal.truth());
    watchdog = false;
    stopped = false;
    newestNs = -1;
    mounted = true;
  }

  @Override
  public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
      throws BenchException {
    PiHardware open = needOpen();
    if (!mounted) {
      throw new BenchException(RigFault.REFUSED, "pi: no trial is mounted");
    }
    if (nowNs <= newestNs) {
      throw new BenchException(
          RigFault.REFUSED, "pi: time " + nowNs + " ns is not after " + newestNs + " ns");
    }
    checkWatchdog();
    try {
      canal.exchange(nowNs, command, reading);
    } catch (BenchException e) {
      open.motor().off();
      throw e;
    }
    commandedNs = clock.getAsLong();
    long stepNs = newestNs < 0 ? 0 : nowNs - newestNs;
    newestNs = nowNs;
    synchronized (open) {
      needOpen(); // another thread may have closed it meanwhile
      open.exchange(stepNs, stopped || watchdog ? new ControllerOutput() : command, reading);
    }
    truth.copyFrom(canal.truth());
    truth.timeNs = nowNs;
    truth.speedMilliRpm = reading.speedMilliRpm;
    truth.torqueMicroNewtonMetres = reading.torqueMicroNewtonMetres;
    truth.stopLine = reading.stopLine;
    if (watchdog) {
      throw new BenchException(
          RigFault.WATCHDOG,
          "pi: no command for more than " + station.watchdogNs() + " ns; the power was cut");
    }
  }

  private PiHardware needOpen() throws BenchException {
    PiHardware open = hardware;
    if (open == null) {
      throw new BenchException(RigFault.PORT_GONE, "pi: the bench is not open");
    }
    return open;
  }

  @Override
  public Truth truth() {
    return truth;
  }

  @Override
  public void safeStop() {
    stopped = true;
    PiHardware open = hardware;
    if (open != null) {
      open.motor().off();
    }
    canal.safeStop();
  }

  @Override
  public void close() {
    safeStop();
    PiHardware open = hardware;
    if (open != null) {
      synchronized (open) {
        hardware = null;
        open.close();
      }
    }
    canal.close();
    ProgramEnd.closed(this);
  }
}
