package org.stopwell.rig.virtual;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;

/** A {@link Plant} in lockstep with the host: bench time advances only during an exchange. */
public final class VirtualBench implements Bench {
  private final long periodNs;
  private final Function<Scene, Plant> plants;
  private final Truth truth = new Truth();
  private final TwinStand stand = new TwinStand();
  private boolean open;
  private @Nullable Plant plant;
  private long nowNs;

  /**
   * A bench that is not open yet.
   *
   * @param periodNs control period, ns
   */
  public VirtualBench(long periodNs) {
    this(periodNs, Plant::new);
  }

  /**
   * A bench that is not open yet, whose file somebody else moves than the hand of the scene.
   *
   * @param periodNs control period, ns
   * @param plants mounts a scene
   */
  public VirtualBench(long periodNs, Function<Scene, Plant> plants) {
    this.periodNs = periodNs;
    this.plants = plants;
  }

  @Override
  public BenchDescription describe() {
    return new BenchDescription("virtual", "model", "stopwell plant", true, true, periodNs);
  }

  /** It models teeth, and has none. */
  @Override
  public List<Lack> lacks() {
    return List.of(new Lack(Ability.TOOTH, "the virtual bench"));
  }

  @Override
  public void open() {
    open = true;
  }

  @Override
  public void mount(Scene scene) throws BenchException {
    if (!open) {
      throw new BenchException(RigFault.REFUSED, "virtual bench: mount before open");
    }
    plant = stand.holdsDevice() ? stand.mount(scene) : plants.apply(scene);
    nowNs = -1;
    plant.truth(truth);
  }

  @Override
  public void exchange(long toNs, ControllerOutput command, ControllerInput reading)
      throws BenchException {
    Plant mounted = plant;
    if (mounted == null) {
      throw new BenchException(RigFault.REFUSED, "virtual bench: exchange without a scene");
    }
    if (toNs <= nowNs) {
      throw new BenchException(
          RigFault.REFUSED, "virtual bench: time " + toNs + " ns is not after " + nowNs + " ns");
    }
    nowNs = toNs;
    if (stand.holdsDevice()) {
      stand.command(command);
      stand.advance(mounted, toNs);
      mounted.read(reading);
      stand.read(mounted, reading);
    } else {
      mounted.advance(toNs, command);
      mounted.read(reading);
    }
    mounted.truth(truth);
  }

  @Override
  public Optional<DeviceWatch> deviceWatch() {
    return Optional.of(stand);
  }

  /**
   * The clamp for simulated devices. Tests look into them and put faults into them.
   *
   * @return the clamp of this bench
   */
  public TwinStand stand() {
    return stand;
  }

  @Override
  public Truth truth() {
    return truth;
  }

  @Override
  public void safeStop() {
    Plant mounted = plant;
    if (mounted != null) {
      mounted.cutPower();
      stand.cutPower();
    }
  }

  @Override
  public void close() {
    safeStop();
    plant = null;
    open = false;
  }
}
