package org.stopwell.rig.virtual;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.number.Elementary;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.device.twin.MakersCurve;
import org.stopwell.rig.device.twin.Twin;
import org.stopwell.rig.device.twin.TwinInside;
import org.stopwell.rig.device.twin.Twins;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.physics.hand.Feed;
import org.stopwell.rig.physics.hand.Hand;

/**
 * A simulated device in the clamp of a simulated bench, the sensors that watch it, and the faults
 * of either.
 */
public final class TwinStand implements DeviceWatch {
  /** The maker of a device measures its curve each 50 µm from here to there, µm: assumed. */
  private static final int CURVE_DEEPEST = -1_000;

  private static final int CURVE_SHALLOWEST = 6_000;
  private static final int CURVE_STEP = 50;

  /** Distance to the foramen at which a fault of the way in begins, m: assumed. */
  private static final double FAULT_BEGINS = 4e-3;

  /** A shank that turns less in a tick stands still, rad: 1 rpm. */
  private static final double STILL = 1.05e-4;

  private final List<Watched> samples = new ArrayList<>();
  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private final ControllerOutput told = new ControllerOutput();
  private volatile @Nullable ClampedDevice device;
  private volatile @Nullable DeviceFault fault;
  private volatile @Nullable Defect defect;
  private @Nullable Twin given;
  private @Nullable Twin twin;
  private @Nullable WatchSensors sensors;
  private volatile TwinInside inside = new TwinInside();
  private Drive before = Drive.OFF;
  private double lastRadians;
  private double slipped;
  private double length;
  private long faultNs;
  private boolean powered;
  private final AtomicInteger mounts = new AtomicInteger();

  /** What a proof finds before a campaign, beside the faults of a trial. */
  public enum Defect {
    /** Wires too long: 90 pF between the network and its surroundings. */
    STRAY,
    /** The scale at the shank sticks and leaps by 25 µm. */
    STICKY_SCALE,
    /** The microphone hears nothing. */
    DEAF_WITNESS
  }

  /** An empty clamp. */
  public TwinStand() {}

  @Override
  public List<String> models() {
    return Twins.models();
  }

  @Override
  public void attach(ClampedDevice clamped) {
    device = clamped;
    mounts.set(0);
  }

  /**
   * Clamps in a device that is none of the list, such as a board at a port.
   *
   * @param twin the device of the trials to come
   */
  public void hold(Twin twin) {
    given = twin;
  }

  /** Every fault but that of the host, which is no part of the bench. */
  @Override
  public Set<DeviceFault> playable() {
    return EnumSet.complementOf(EnumSet.of(DeviceFault.LATE_HOST));
  }

  @Override
  public void play(Optional<DeviceFault> kind) {
    fault = kind.filter(playable()::contains).orElse(null);
  }

  /**
   * Damages the bench, for tests of its proof.
   *
   * @param kind the defect; null: none
   */
  public void damage(@Nullable Defect kind) {
    defect = kind;
  }

  /**
   * Commands the motor that is in the clamp in place of a device; a device obeys nobody.
   *
   * @param command what to do from now on
   */
  public void command(ControllerOutput command) {
    told.copyFrom(command);
  }

  /**
   * What really happened, for tests.
   *
   * @return of the trial that is mounted
   */
  public TwinInside inside() {
    return inside;
  }

  @Override
  public CircuitCheck circuit() {
    return fault == DeviceFault.CABLE_OFF
        ? new CircuitCheck(false, 1_000_000, 30)
        : fault == DeviceFault.LEAK
            ? new CircuitCheck(true, 20_000, 30)
            : defect == Defect.STRAY ? new CircuitCheck(true, 1_000_000, 90) : CircuitCheck.SOUND;
  }

  @Override
  public void drain(List<Watched> into) {
    into.addAll(samples);
    samples.clear();
  }

  /**
   * Whether a device is clamped in.
   *
   * @return true from the first {@link #attach} on
   */
  public boolean holdsDevice() {
    return device != null;
  }

  /** The device leaves the file alone from now on. */
  public void cutPower() {
    powered = false;
  }

  /**
   * Mounts a scene, sensed by the front end of the device.
   *
   * @param scene the scene
   * @return its plant
   * @throws BenchException {@code REFUSED} when there is no such device
   */
  public Plant mount(Scene scene) throws BenchException {
    ClampedDevice clamped = device;
    Optional<Twin> made =
        Optional.ofNullable(given).or(() -> Optional.ofNullable(clamped).flatMap(Twins::of));
    boolean driven = ClampedDevice.MOTOR.equals(clamped);
    if (clamped == null || (made.isEmpty() && !driven)) {
      throw new BenchException(
          RigFault.REFUSED,
          "virtual bench: no simulated device "
              + (clamped == null ? "" : clamped.model())
              + "; device.model is one of "
              + String.join(", ", Twins.models()));
    }
    Scene sensed = scene;
    twin = null;
    inside = new TwinInside();
    if (made.isPresent()) {
      Twin mounted = made.get();
      sensed = scene.taking("front_end", frontEnd(mounted));
      mounted.learn(curve(sensed));
      inside.lagNs = mounted.lagNs();
      twin = mounted;
    }
    Hand hand =
        new Hand(
            scene.section("hand"),
            Canal.of(scene.section("canal")).length(),
            scene.random("hand"),
            Plant.TICK_NS);
    mounts.incrementAndGet();
    samples.clear();
    told.clear();
    out.clear();
    before = Drive.OFF;
    lastRadians = 0;
    faultNs = Long.MAX_VALUE;
    powered = true;
    length = Canal.of(scene.section("canal")).length();
    slipped = 0;
    sensors =
        new WatchSensors(
            scene.random("watch"),
            CanalSection.kind(scene.section("canal")).isBuilt(),
            length,
            hand.start());
    return new Plant(sensed, new Carriage(hand));
  }

  private static Scene frontEnd(Twin twin) throws BenchException {
    try {
      return Scene.of(Map.of("front_end", twin.frontEnd()), 0);
    } catch (SettingsException e) {
      throw new BenchException(RigFault.REFUSED, "virtual bench: " + e.getMessage());
    }
  }

  /**
   * The maker's canal: that of the network where the file is in a network, else the canal of an
   * empty scene of the same kind, with the file and the fluid of the scene.
   */
  private static MakersCurve curve(Scene scene) throws BenchException {
    Scene makers = scene.seeded(0);
    if (!CanalSection.kind(scene.section("canal")).isBuilt()) {
      Map<String, Map<String, String>> kind = new LinkedHashMap<>();
      kind.put(
          "canal",
          Map.of(CanalSection.KIND.key(), scene.section("canal").choice(CanalSection.KIND)));
      try {
        makers = scene.taking("canal", Scene.of(kind, 0)).taking("fluid", Scene.of(kind, 0));
      } catch (SettingsException e) {
        throw new BenchException(RigFault.REFUSED, "virtual bench: " + e.getMessage());
      }
    }
    Specimen specimen = new Specimen(makers);
    int frequencies = FrontEndSection.hertz(scene.section("front_end")).length;
    int rows = (CURVE_SHALLOWEST - CURVE_DEEPEST) / CURVE_STEP + 1;
    double[][] ohms = new double[rows][frequencies];
    for (int row = rows - 1; row >= 0; row--) {
      MeasuringCircuit circuit = specimen.at((CURVE_DEEPEST + row * CURVE_STEP) * 1e-6);
      for (int k = 0; k < frequencies; k++) {
        ohms[row][k] = Elementary.hypot(circuit.ohmsRe(k), circuit.ohmsIm(k));
      }
    }
    return new MakersCurve(CURVE_DEEPEST, CURVE_STEP, List.of(ohms));
  }

  /**
   * Lets plant and device go on together; the device decides in every tick of the plant.
   *
   * @param plant what was mounted
   * @param toNs time to go on to, ns
   */
  public void advance(Plant plant, long toNs) {
    for (long now = plant.nowNs() + Plant.TICK_NS; now <= toNs; now += Plant.TICK_NS) {
      plant.advance(now, out);
      plant.read(in);
      long since = faulty(plant, now);
      alterSensing(since);
      Twin turning = twin;
      if (!powered) {
        out.clear();
      } else if (turning == null) {
        out.copyFrom(told);
      } else {
        turning.step(now, in, out);
      }
      alterDriving(plant, now, since);
      note(plant, now);
      WatchSensors watch = sensors;
      if (watch != null) {
        watch.sample(plant, now, since, fault, defect, samples);
      }
    }
  }

  /**
   * Writes what the bench itself measures beside the device: the depth of its carriage.
   *
   * @param plant what was mounted
   * @param reading receives it
   */
  public void read(Plant plant, ControllerInput reading) {
    reading.positionKind = PositionKind.ABSENT;
    reading.frequencyCount = 0;
    reading.railed = false;
    reading.insertionPresent = true;
    reading.insertionMicrons = (int) Elementary.rint((length - plant.remaining() + slipped) * 1e6);
  }

  /** Time since the fault began, ns; negative before. */
  private long faulty(Plant plant, long now) {
    if (fault != null && faultNs == Long.MAX_VALUE && plant.remaining() <= FAULT_BEGINS) {
      faultNs = now;
    }
    return faultNs == Long.MAX_VALUE ? -1 : now - faultNs;
  }

  private void alterSensing(long since) {
    boolean open =
        (fault == DeviceFault.NO_READING && mounts.get() == 1)
            || (fault == DeviceFault.CABLE_OFF && since >= 0)
            || (fault == DeviceFault.NETWORK_GLITCH
                && since >= 0
                && since < WatchSensors.GLITCH_NS);
    if (open) {
      for (int i = 0; i < in.frequencyCount; i++) {
        in.zRealMilliOhms[i] = 2_000_000_000;
        in.zImagMilliOhms[i] = 0;
      }
    } else if (fault == DeviceFault.LEAK) {
      for (int i = 0; i < in.frequencyCount; i++) {
        in.zRealMilliOhms[i] = (int) (0.8 * in.zRealMilliOhms[i]);
        in.zImagMilliOhms[i] = (int) (0.8 * in.zImagMilliOhms[i]);
      }
    }
  }

  private void alterDriving(Plant plant, long now, long since) {
    if (fault == null || !powered) {
      return;
    }
    boolean acted = inside.actedNs != TwinInside.NEVER;
    long acting = acted ? now - inside.actedNs : -1;
    switch (fault) {
      case NEVER_STARTED -> out.clear();
      case TURNED_EARLY -> {
        if (plant.remaining() > length) {
          turn(Drive.FORWARD, 300_000);
        }
      }
      case OSCILLATES -> {
        if (acting >= 0) {
          turn(acting / 200_000_000 % 2 == 0 ? Drive.BRAKE : Drive.FORWARD, 300_000);
        }
      }
      case TORQUE_STOP -> {
        if (since >= WatchSensors.FORCE_RISE_NS) {
          turn(Drive.BRAKE, 0);
        }
      }
      case FALSE_STOP -> {
        if (since >= 0) {
          turn(Drive.BRAKE, 0);
        }
      }
      case REVERSED_SHORT -> {
        if (since >= 0) {
          turn(since < 700_000_000 ? Drive.BACKWARD : Drive.BRAKE, 300_000);
        }
      }
      case RUNS_ON -> {
        if (acting >= 0 && acting < 1_200_000_000) {
          turn(Drive.FORWARD, (int) (300_000 * (1 - acting / 1.2e9)));
        }
      }
      case NO_STOP -> {
        if (plant.remaining() <= FAULT_BEGINS) {
          turn(Drive.FORWARD, 300_000);
        }
      }
      case RESTARTED -> {
        if (acting > 1_500_000_000L && acting < 1_900_000_000L) {
          turn(Drive.FORWARD, 300_000);
        }
      }
      case BATTERY_LOW -> {
        if (inside.startedNs != TwinInside.NEVER) {
          double seconds = (now - inside.startedNs) * 1e-9;
          out.speedMilliRpm = (int) (out.speedMilliRpm * Math.max(0.4, 1 - 0.05 * seconds));
        }
      }
      default -> {}
    }
  }

  private void turn(Drive drive, int milliRpm) {
    out.drive = drive;
    out.speedMilliRpm = milliRpm;
    out.torqueLimitMicroNewtonMetres = 6_000;
  }

  /** Keeps what really happened. A fault that only tells on the act is no act of its own. */
  private void note(Plant plant, long now) {
    double microns = plant.remaining() * 1e6;
    inside.deepestMicrons = Math.min(inside.deepestMicrons, microns);
    inside.restMicrons = microns;
    boolean on = out.drive == Drive.FORWARD;
    boolean was = before == Drive.FORWARD;
    if (on && !was) {
      if (inside.startedNs == TwinInside.NEVER) {
        inside.startedNs = now;
        inside.startMicrons = microns;
      } else {
        inside.restarts++;
      }
    } else if (was && !on && (inside.actedNs == TwinInside.NEVER || fault == null)) {
      inside.actedNs = now;
      inside.actMicrons = microns;
      inside.actRadians = plant.shankRadians();
      inside.stillNs = TwinInside.NEVER;
    }
    if (inside.actedNs != TwinInside.NEVER
        && inside.stillNs == TwinInside.NEVER
        && now > inside.actedNs
        && plant.shankRadians() - lastRadians < STILL) {
      inside.stillNs = now;
      inside.stillRadians = plant.shankRadians();
      inside.stillMicrons = microns;
    }
    lastRadians = plant.shankRadians();
    before = out.drive;
  }

  /** The carriage that the hand moves; the file follows it unless it slips. */
  private final class Carriage implements Feed {
    private final Hand hand;

    Carriage(Hand hand) {
      this.hand = hand;
    }

    @Override
    public double start() {
      return hand.start();
    }

    @Override
    public double move(long nowNs, double remaining, int rotation) {
      // The bench feeds by what it senses; it does not know how the motor of a device turns.
      WatchSensors watch = sensors;
      double way = hand.move(nowNs, remaining, watch == null ? 0 : watch.way());
      boolean begun = faultNs != Long.MAX_VALUE;
      if (fault == DeviceFault.STAGE_STALLS && begun) {
        way = 0;
      } else if (fault == DeviceFault.FEED_WRONG) {
        way *= 1.3;
      }
      double follows = fault == DeviceFault.FILE_SLIPS && begun ? 0.4 * way : way;
      slipped += way - follows;
      return follows;
    }
  }
}
