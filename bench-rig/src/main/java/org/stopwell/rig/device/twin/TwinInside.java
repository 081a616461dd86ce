package org.stopwell.rig.device.twin;

/** What really happened in a trial of a simulated device: for tests, which compare with it. */
public final class TwinInside {
  /** Time without an event, ns. */
  public static final long NEVER = -1;

  /** Mean time from a place of the tip to the act that this place causes, ns; negative: unknown. */
  public long lagNs = NEVER;

  /** When the motor was first switched on, ns. */
  public long startedNs = NEVER;

  /** True distance to the foramen then, µm. */
  public double startMicrons;

  /** When the device acted, at its last stop or reversal, ns. */
  public long actedNs = NEVER;

  /** True distance to the foramen then, µm. */
  public double actMicrons;

  /** Angle of the shank then, rad. */
  public double actRadians;

  /** When the shank first stood still, or turned round, after that, ns. */
  public long stillNs = NEVER;

  /** Angle of the shank then, rad. */
  public double stillRadians;

  /** True distance to the foramen then, µm. */
  public double stillMicrons;

  /** How often the motor was switched on again. */
  public int restarts;

  /** Least true distance to the foramen, µm. */
  public double deepestMicrons = Double.MAX_VALUE;

  /** True distance to the foramen at the last moment, µm. */
  public double restMicrons;

  /** A trial that has not begun. */
  public TwinInside() {}
}
