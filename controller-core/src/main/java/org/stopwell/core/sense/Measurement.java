package org.stopwell.core.sense;

/** What one sample says before any filter. A reused frame: a {@link Sensing} overwrites it. */
public final class Measurement {
  /** The sample does not hold what the policy needs. */
  public boolean unusable;

  /** The circuit is open. */
  public boolean open;

  /** The tip is out of the fluid. */
  public boolean unwetted;

  /** Current finds a way around the canal. */
  public boolean leaking;

  /** The file is in the canal. */
  public boolean inside;

  /** The file is out of the canal. Between inside and outside neither is true. */
  public boolean outside;

  /** Whether the two fields below hold a distance. */
  public boolean placed;

  /** The file is farther from the foramen than the curve goes; the distance is the last of it. */
  public boolean far;

  /** The distance is that of an earlier sample; nothing was recomputed. */
  public boolean repeated;

  /** No canal gives such a sample: one frequency has jumped. */
  public boolean impossible;

  /** The signal has changed faster than a file can be fed, though the distance may not show it. */
  public boolean jumped;

  /** The signal is unlike everything that was learned. */
  public boolean vague;

  /** The distance is too uncertain to be used at all. */
  public boolean hopeless;

  /**
   * Stated bound: the error of the distance is within it 95 times in 100, µm; 0 when the policy
   * states none.
   */
  public double boundMicrons;

  /** Standard error of the distance with all that is not known of the canal, µm; 0 is not given. */
  public double standardErrorMicrons;

  /** Distance from file tip to foramen, positive short of it, µm. */
  public double remainingMicrons;

  /** Standard deviation of that distance from sample to sample, µm. */
  public double sdMicrons;

  /** How far one ohm more in series moves the distance, µm/Ω; 0 is not given. */
  public double micronsPerOhm;

  /** How long before the sample the file was there, ns; more than 0 where samples are smoothed. */
  public double lagNs;

  /**
   * A second witness of the same sample, which rises with the distance: for a ratio, the magnitude;
   * 0 when there is none.
   */
  public double witness;

  /**
   * What the witness would be at the distance of the calibrated curve; 0 when that is not known.
   */
  public double expectedWitness;

  /** A frame with nothing in it. */
  public Measurement() {}

  /** Forgets everything. */
  public void clear() {
    unusable = false;
    open = false;
    unwetted = false;
    leaking = false;
    inside = false;
    outside = false;
    placed = false;
    far = false;
    repeated = false;
    impossible = false;
    jumped = false;
    vague = false;
    hopeless = false;
    boundMicrons = 0;
    standardErrorMicrons = 0;
    remainingMicrons = 0;
    sdMicrons = 0;
    micronsPerOhm = 0;
    lagNs = 0;
    witness = 0;
    expectedWitness = 0;
  }

  /** The flags that the next steps still look at, as a number. */
  long bits() {
    return (unusable ? 1 : 0)
        | (open ? 2 : 0)
        | (unwetted ? 4 : 0)
        | (leaking ? 8 : 0)
        | (inside ? 16 : 0)
        | (outside ? 32 : 0)
        | (vague ? 64 : 0)
        | (hopeless ? 128 : 0);
  }
}
