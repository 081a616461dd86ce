package org.stopwell.core.settings;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.stopwell.core.frame.PositionKind;

/**
 * What a sensing policy needs: the kind of signal, the frequencies and the keys of section {@code
 * sense}. The scene, the checks and the wire follow it; a key that the policy does not read is
 * refused.
 *
 * @param signal impedance, or the distance of an outside locator
 * @param single the single value of one sample that stands for a place, if there is one
 * @param frequencies which frequencies the policy needs; none with a locator
 * @param keys the keys of {@code sense} that the policy reads, beside those of every policy
 */
public record SensingNeeds(
    PositionKind signal, Single single, Frequencies frequencies, List<Parameter> keys) {

  /**
   * The single value of one sample that stands for a place: the calibrated curve gives the place,
   * and the stop monitor has a threshold for it.
   */
  public enum Single {
    /** Magnitude at the upper frequency over that at the lower one. */
    RATIO,
    /** Magnitude at the lower frequency. */
    MAGNITUDE,
    /** The distance of an outside locator. */
    DISTANCE,
    /** None: the place follows from more than one value or sample. */
    NONE
  }

  /** The frequencies that a policy needs. */
  @FunctionalInterface
  public interface Frequencies {
    /**
     * The frequencies.
     *
     * @param sense the values of section {@code sense}
     * @param own the values of the policy's own parameters
     * @return Hz, ascending; empty with an outside locator
     */
    int[] hertz(ParameterValues sense, ParameterValues own);
  }

  /** Keys that every sensing policy obeys: proof of the canal, noise and filter. */
  private static final List<Parameter> OF_ALL =
      List.of(
          SenseParameters.POLICY,
          SenseParameters.ENTER_SAMPLES,
          SenseParameters.ENTER_DWELL,
          SenseParameters.LEAVE_DWELL,
          SenseParameters.DISTANCE_NOISE,
          SenseParameters.FEED_CHANGE,
          SenseParameters.STROKE);

  /** The frequencies of policy {@code approach} where no weights state their own, Hz. */
  private static final int[] APPROACH_HERTZ = {300, 1500, 7000, 20_000};

  /** Of policy {@code ratio}. */
  public static final SensingNeeds RATIO =
      new SensingNeeds(
          PositionKind.IMPEDANCE,
          Single.RATIO,
          (sense, own) ->
              new int[] {sense.getInt(SenseParameters.LOW), sense.getInt(SenseParameters.HIGH)},
          List.of(
              SenseParameters.LOW,
              SenseParameters.HIGH,
              SenseParameters.OPEN,
              SenseParameters.UNWETTED,
              SenseParameters.ENTER,
              SenseParameters.LEAK_FLOOR,
              SenseParameters.LEAK_SHARE,
              SenseParameters.DRY_SHARE,
              SenseParameters.FEATURE_NOISE));

  /** Of policy {@code resistance}. */
  public static final SensingNeeds RESISTANCE =
      new SensingNeeds(
          PositionKind.IMPEDANCE,
          Single.MAGNITUDE,
          (sense, own) -> new int[] {sense.getInt(SenseParameters.LOW)},
          List.of(
              SenseParameters.LOW,
              SenseParameters.OPEN,
              SenseParameters.UNWETTED,
              SenseParameters.ENTER,
              SenseParameters.LEAK_FLOOR,
              SenseParameters.LEAK_SHARE,
              SenseParameters.FEATURE_NOISE));

  /** Of policy {@code locator}. */
  public static final SensingNeeds LOCATOR =
      new SensingNeeds(
          PositionKind.DISTANCE,
          Single.DISTANCE,
          (sense, own) -> new int[0],
          List.of(
              SenseParameters.ENTER_DISTANCE,
              SenseParameters.LEAVE_DISTANCE,
              SenseParameters.LOCATOR_STEP,
              SenseParameters.LOCATOR_RATE,
              SenseParameters.LOCATOR_ERROR,
              SenseParameters.LOCATOR_FEED,
              SenseParameters.LOCATOR_SLOW));

  /** Of policy {@code approach}. */
  public static final SensingNeeds APPROACH =
      impedance(APPROACH_HERTZ)
          .reading(
              SenseParameters.WEIGHTS,
              SenseParameters.OPEN,
              SenseParameters.UNWETTED,
              SenseParameters.ENTER,
              SenseParameters.FEATURE_NOISE,
              SenseParameters.REFUSE_BOUND,
              SenseParameters.CAUTION,
              SenseParameters.LEAK_CURRENT);

  /** Copies the keys. */
  public SensingNeeds {
    keys = List.copyOf(keys);
  }

  /**
   * A policy that needs impedance at fixed frequencies.
   *
   * @param hertz one to four frequencies, ascending, Hz
   * @return its needs, without keys of {@code sense}
   */
  public static SensingNeeds impedance(int... hertz) {
    int[] copy = hertz.clone();
    return impedance((sense, own) -> copy.clone());
  }

  /**
   * A policy that needs impedance at frequencies that settings give.
   *
   * @param frequencies one to four frequencies, ascending
   * @return its needs, without keys of {@code sense}
   */
  public static SensingNeeds impedance(Frequencies frequencies) {
    return new SensingNeeds(PositionKind.IMPEDANCE, Single.NONE, frequencies, List.of());
  }

  /**
   * A policy that needs the distance of an outside locator.
   *
   * @return its needs, without keys of {@code sense}
   */
  public static SensingNeeds distance() {
    return new SensingNeeds(
        PositionKind.DISTANCE, Single.NONE, (sense, own) -> new int[0], List.of());
  }

  /**
   * These needs and more keys of section {@code sense}.
   *
   * @param more parameters of {@link SenseParameters}
   * @return a copy
   */
  public SensingNeeds reading(Parameter... more) {
    List<Parameter> all = new ArrayList<>(keys);
    all.addAll(Arrays.asList(more));
    return new SensingNeeds(signal, single, frequencies, all);
  }

  /**
   * Whether the policy reads a key of section {@code sense}.
   *
   * @param key such as {@code low_hz}
   * @return false when a file must not give it
   */
  public boolean reads(String key) {
    return keys.stream().anyMatch(p -> p.key().equals(key))
        || OF_ALL.stream().anyMatch(p -> p.key().equals(key));
  }

  /**
   * Whether the policy reads by weights.
   *
   * @return true when settings need them
   */
  public boolean byWeights() {
    return keys.contains(SenseParameters.WEIGHTS);
  }

  /**
   * Whether the policy reads by the calibrated curve.
   *
   * @return true when settings need one
   */
  public boolean byCurve() {
    return single == Single.RATIO || single == Single.MAGNITUDE;
  }
}
