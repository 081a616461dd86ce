package org.stopwell.rig.board;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.virtual.TwinStand;
import org.stopwell.rig.wire.BoardIdentity;

/**
 * A serial bench and the board it talks to in one program: the virtual physics behind the real
 * protocol, the real serial library and a pseudo-terminal.
 */
public final class EmulatedBench implements Bench {
  private static final String KIND = "emulated";

  /** EXCHANGE and READING with two frequencies, from the protocol page. */
  private static final long EXCHANGE_BYTES = 41 + 124;

  private final BoardIdentity identity;
  private final int baud;
  private final TwinStand stand = new TwinStand();
  private @Nullable EmulatedBoard board;
  private @Nullable SerialBench bench;

  private EmulatedBench(BoardIdentity identity, int baud) {
    this.identity = identity;
    this.baud = baud;
  }

  /**
   * A bench in lockstep: as fast as the machine can.
   *
   * @param periodNs control period, ns
   * @return a bench that is not open yet
   */
  public static EmulatedBench lockstep(long periodNs) {
    return new EmulatedBench(EmulatedBoard.identity(true, periodNs), 0);
  }

  /**
   * A bench by the machine's clock, behind a wire of the given speed. Its period is at least twice
   * the time that command and reading take on that wire.
   *
   * @param periodNs control period wanted, ns
   * @param baud speed of the wire, bits per second
   * @return a bench that is not open yet
   */
  public static EmulatedBench realTime(long periodNs, int baud) {
    long least = 2 * EXCHANGE_BYTES * EmulatedBoard.byteNs(baud);
    return new EmulatedBench(EmulatedBoard.identity(false, Math.max(periodNs, least)), baud);
  }

  @Override
  public BenchDescription describe() {
    SerialBench open = bench;
    return open == null
        ? new BenchDescription(KIND, "", "", true, identity.lockstep(), identity.periodNs())
        : open.describe();
  }

  @Override
  public void open() throws BenchException {
    EmulatedBoard started;
    try {
      started = EmulatedBoard.start(identity, baud, stand);
    } catch (IOException e) {
      throw new BenchException(RigFault.PORT_MISSING, String.valueOf(e.getMessage()), e);
    }
    SerialBench opened =
        new SerialBench(
            new SerialLink(started.portName(), baud == 0 ? SerialLink.BAUD : baud),
            KIND,
            identity.serialNumber());
    try {
      opened.open();
    } catch (BenchException e) {
      started.close();
      throw e;
    }
    board = started;
    bench = opened;
  }

  @Override
  public void mount(Scene scene) throws BenchException {
    needOpen().mount(scene);
  }

  @Override
  public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
      throws BenchException {
    needOpen().exchange(nowNs, command, reading);
  }

  private SerialBench needOpen() throws BenchException {
    SerialBench open = bench;
    if (open == null) {
      throw new BenchException(RigFault.PORT_GONE, "the emulated bench is not open");
    }
    return open;
  }

  /** The samples come over the wire; only a person could put a device into the clamp. */
  @Override
  public Optional<DeviceWatch> deviceWatch() {
    SerialBench open = bench;
    return open == null ? Optional.empty() : open.deviceWatch().map(Clamp::new);
  }

  /** What is seen over the wire of a device in the clamp of the board. */
  private final class Clamp implements DeviceWatch {
    private final DeviceWatch wire;

    Clamp(DeviceWatch wire) {
      this.wire = wire;
    }

    @Override
    public List<String> models() {
      return stand.models();
    }

    @Override
    public void attach(ClampedDevice device) {
      stand.attach(device);
      wire.attach(device);
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
    public CircuitCheck circuit() throws BenchException {
      return wire.circuit();
    }

    @Override
    public void drain(List<Watched> into) {
      wire.drain(into);
    }
  }

  /**
   * The clamp for simulated devices. Tests look into them and put faults into them.
   *
   * @return the clamp of the board
   */
  public TwinStand stand() {
    return stand;
  }

  @Override
  public Truth truth() {
    SerialBench open = bench;
    return open == null ? new Truth() : open.truth();
  }

  @Override
  public void safeStop() {
    SerialBench open = bench;
    if (open != null) {
      open.safeStop();
    }
  }

  @Override
  public void close() {
    if (bench != null) {
      bench.close();
    }
    if (board != null) {
      board.close();
    }
    bench = null;
    board = null;
  }
}
