package org.stopwell.rig.virtual;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.number.Elementary;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.random.RandomStream;

/**
 * The sensors of the virtual bench: a 12-bit angle chip over a mark, a scale at the shank, a load
 * cell and a microphone, sampled at 2 kHz by a board with a clock of its own.
 */
final class WatchSensors {
  /** The network stays open for so long where it glitches, ns: assumed. */
  static final long GLITCH_NS = 150_000_000;

  /** The feed force rises for so long before a stop by torque, ns: assumed. */
  static final long FORCE_RISE_NS = 150_000_000;

  private static final long PERIOD_NS = 500_000;

  /** A scale that sticks leaps by so much, µm: assumed. */
  private static final double STICKS = 25;

  /** Samples are not used for so long after a step of the network, ns. */
  private static final long SETTLING_NS = 1_000_000;

  /** A step of the network, m. */
  private static final double NETWORK_STEP = 10e-6;

  /** One step of the angle chip, m°. */
  private static final double ANGLE_STEP = 360_000.0 / 4096;

  /** Noise of an angle, m°; error of a mark that is not centred, m°: assumed. */
  private static final double ANGLE_NOISE = 80;

  private static final double ECCENTRIC = 300;

  /** Error of the shank scale in one trial, its noise, µm: 10 µm expanded together. */
  private static final double SHANK_OFFSET = 4;

  private static final double SHANK_NOISE = 1.5;

  /** Standard deviation of a time stamp, ns: assumed; the limit of the skew is 0.1 ms. */
  private static final double STAMP = 20_000;

  /** The microphone hears a faster motor, rad per tick: 20 rpm. */
  private static final double HEARD = 2.1e-3;

  private final RandomStream random;
  private final boolean steps;
  private final double length;
  private final double offset;
  private final double phase;
  private double lastRadians;
  private double lastRemaining;
  private long markedUntilNs = -1;
  private double frozenMilliDegrees = Double.NaN;
  private double slipped;
  private int slips;
  private final SensedTurn turn = new SensedTurn();

  WatchSensors(RandomStream random, boolean steps, double length, double start) {
    this.random = random;
    this.steps = steps;
    this.length = length;
    offset = SHANK_OFFSET * random.nextGaussian();
    phase = random.nextBetween(0, 360_000);
    lastRemaining = start;
  }

  /** Which way the file turns, as the sensor says: 1, -1, or 0 at rest. */
  int way() {
    return turn.way();
  }

  /** Adds the two samples of a tick. */
  void sample(
      Plant plant,
      long now,
      long since,
      @Nullable DeviceFault fault,
      TwinStand.@Nullable Defect defect,
      List<Watched> into) {
    double radians = plant.shankRadians();
    double remaining = plant.remaining();
    boolean heard =
        Math.abs(radians - lastRadians) > HEARD && defect != TwinStand.Defect.DEAF_WITNESS;
    boolean begun = since >= 0;
    if (steps && Math.floor(remaining / NETWORK_STEP) != Math.floor(lastRemaining / NETWORK_STEP)) {
      markedUntilNs = now + SETTLING_NS - Plant.TICK_NS;
    }
    if (fault == DeviceFault.NETWORK_GLITCH && begun && since < GLITCH_NS) {
      markedUntilNs = now;
    }
    if (fault == DeviceFault.MARK_SLIPS && begun && slips < 6 && since > slips * 150_000_000L) {
      slipped -= 40_000;
      slips++;
    }
    for (int half = 1; half <= 2; half++) {
      double share = 0.5 * half;
      double angle = Math.toDegrees(lastRadians + share * (radians - lastRadians)) * 1e3;
      double place = lastRemaining + share * (remaining - lastRemaining);
      double stamp = now - (2 - half) * PERIOD_NS + STAMP * random.nextGaussian();
      if (fault == DeviceFault.CLOCK_SKEW) {
        stamp *= 1.01;
      }
      double seen =
          angle
              + ECCENTRIC * Elementary.sin(Math.toRadians((angle + phase) * 1e-3))
              + ANGLE_NOISE * random.nextGaussian()
              + slipped;
      if (fault == DeviceFault.MARK_OFF && begun) {
        frozenMilliDegrees = Double.isNaN(frozenMilliDegrees) ? seen : frozenMilliDegrees;
        seen = frozenMilliDegrees;
      }
      turn.sample(ANGLE_STEP * Elementary.rint(seen / ANGLE_STEP));
      double shank = (length - place) * 1e6 + offset + SHANK_NOISE * random.nextGaussian();
      if (defect == TwinStand.Defect.STICKY_SCALE) {
        shank = STICKS * Math.floor(shank / STICKS);
      }
      double force = 250 + 20 * random.nextGaussian();
      if (fault == DeviceFault.TORQUE_STOP && begun) {
        force += 3_000 * Math.min(1, since / (double) FORCE_RISE_NS);
      }
      if (fault == DeviceFault.SAMPLES_LOST && begun && since < 300_000_000) {
        continue;
      }
      into.add(
          new Watched(
              Math.max(0, Math.round(stamp)),
              Math.round(ANGLE_STEP * Elementary.rint(seen / ANGLE_STEP)),
              (int) Elementary.rint(shank),
              (int) Elementary.rint(force),
              now <= markedUntilNs,
              heard));
    }
    lastRadians = radians;
    lastRemaining = remaining;
  }
}
