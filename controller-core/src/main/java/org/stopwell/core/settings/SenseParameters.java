package org.stopwell.core.settings;

import java.util.ArrayList;
import java.util.List;

/** How the position signal is read: section {@code sense}. */
public final class SenseParameters {
  /** The word for two-frequency sensing. */
  public static final String RATIO = "ratio";

  /** The word for sensing by one magnitude. */
  public static final String RESISTANCE = "resistance";

  /** The word for the distance of an outside locator. */
  public static final String LOCATOR = "locator";

  /** The word for the estimate from the whole approach. */
  public static final String APPROACH = "approach";

  /** How the signal becomes a distance. */
  public static final Parameter POLICY = policy(List.of(RATIO, RESISTANCE, LOCATOR, APPROACH));

  private static Parameter policy(List<String> names) {
    return Parameter.of("policy")
        .choice(names)
        .text(
            "ratio: magnitude at high_hz divided by magnitude at low_hz, by the calibrated curve;"
                + " resistance: magnitude at low_hz, by the calibrated curve;"
                + " locator: distance from an outside locator;"
                + " approach: estimate from four frequencies over the whole approach, without a curve.")
        .source("ratio of two frequencies: Kim, Kim and Cho, Restor Dent Endod 2015;40:113-122");
  }

  /** The file of weights. */
  public static final Parameter WEIGHTS =
      Parameter.of("weights")
          .file()
          .text(
              "File of weights for policy approach, relative to the settings file;"
                  + " absent: the weights that come with the program.")
          .source("docs/weights.md");

  /** The lower frequency, Hz. */
  public static final Parameter LOW =
      Parameter.of("low_hz")
          .unit("Hz")
          .range("50", "100000")
          .initially("700")
          .text("Lower measuring frequency.")
          .source("assumed");

  /** The upper frequency, Hz. */
  public static final Parameter HIGH =
      Parameter.of("high_hz")
          .unit("Hz")
          .range("50", "100000")
          .initially("7000")
          .text("Upper measuring frequency.")
          .source("assumed");

  /** Magnitude at the lower frequency above which the circuit is open, mΩ. */
  public static final Parameter OPEN =
      Parameter.of("open_kohm")
          .unit("kOhm", 6)
          .range("50", "2000")
          .initially("1000")
          .text("Magnitude at low_hz above which the circuit counts as open.")
          .source("assumed; a dry or open circuit is far above 100 kOhm by circuit law");

  /** Magnitude at the lower frequency above which the tip is out of the fluid, mΩ. */
  public static final Parameter UNWETTED =
      Parameter.of("unwetted_kohm")
          .unit("kOhm", 6)
          .range("10", "2000")
          .initially("150")
          .text(
              "Magnitude at low_hz above which the tip counts as out of the fluid and the "
                  + "file as out of the canal.")
          .source("assumed; wet canals stay below some 50 kOhm by the column model");

  /** Magnitude at the lower frequency below which the tip is in the canal, mΩ. */
  public static final Parameter ENTER =
      Parameter.of("enter_kohm")
          .unit("kOhm", 6)
          .range("5", "2000")
          .initially("100")
          .text("Magnitude at low_hz below which the file can count as in the canal.")
          .source("assumed; two thirds of unwetted_kohm, for hysteresis");

  /** Magnitude at the lower frequency below which current leaks, mΩ. */
  public static final Parameter LEAK_FLOOR =
      Parameter.of("leak_ohm")
          .unit("Ohm", 3)
          .range("0", "20000")
          .initially("3000")
          .text(
              "Magnitude at low_hz below which the reading counts as leaking around the "
                  + "canal.")
          .source(
              "assumed; under half of the 6.5 kOhm from file to mucosa of Sunada, J Dent Res 1962;41:375-387");

  /** Least share of the calibrated low-frequency magnitude, percent. */
  public static final Parameter LEAK_SHARE =
      Parameter.of("leak_share_percent")
          .unit("%")
          .range("0", "100")
          .initially("50")
          .text(
              "Share of the calibrated magnitude at low_hz below which the reading counts "
                  + "as leaking around the canal; 0 turns the check off.")
          .source("assumed");

  /** Greatest share of the calibrated low-frequency magnitude, percent. */
  public static final Parameter DRY_SHARE =
      Parameter.of("dry_share_percent")
          .unit("%")
          .range("100", "2000")
          .initially("200")
          .text(
              "Share of the calibrated magnitude at low_hz above which the tip has poor "
                  + "contact with the fluid: it is at the surface, or a glove closes the circuit.")
          .source("assumed: as wide upwards as leak_share_percent is downwards");

  /** Distance of an outside locator within which the file is in the canal, µm. */
  public static final Parameter ENTER_DISTANCE =
      Parameter.of("enter_mm")
          .unit("mm", 3)
          .range("1", "40")
          .initially("16")
          .text(
              "Distance of an outside locator below which the file can count as in the " + "canal.")
          .source("assumed; 16 mm is the least working part of a file, ISO 3630-1, from memory");

  /** Distance of an outside locator beyond which the file is out of the canal, µm. */
  public static final Parameter LEAVE_DISTANCE =
      Parameter.of("leave_mm")
          .unit("mm", 3)
          .range("1", "50")
          .initially("18")
          .text(
              "Distance of an outside locator above which the file counts as out of the "
                  + "canal.")
          .source("assumed");

  /** Samples in a row that must agree before the file counts as in the canal. */
  public static final Parameter ENTER_SAMPLES =
      Parameter.of("enter_samples")
          .unit("samples")
          .range("1", "100")
          .initially("3")
          .text(
              "Consecutive new samples that must show the file in the canal before the "
                  + "motor may start.")
          .source("assumed");

  /** How long the file must be in the canal before the motor starts, ns. */
  public static final Parameter ENTER_DWELL =
      Parameter.of("enter_ms")
          .unit("ms", 6)
          .range("0", "5000")
          .initially("80")
          .text(
              "Time for which the signal must show the file in the canal before the motor "
                  + "may start.")
          .source("assumed");

  /** How long the file must be out of the canal before it counts as left, ns. */
  public static final Parameter LEAVE_DWELL =
      Parameter.of("leave_ms")
          .unit("ms", 6)
          .range("0", "5000")
          .initially("150")
          .text(
              "Time for which the signal must show the file out of the canal before the "
                  + "file counts as withdrawn.")
          .source("assumed");

  /** Noise of the electrical feature, 1/1000 %. */
  public static final Parameter FEATURE_NOISE =
      Parameter.of("feature_noise_percent")
          .unit("%", 3)
          .range("0.001", "20")
          .initially("0.3")
          .text("Standard deviation of one ratio or magnitude, as a share of its value.")
          .source("assumed; measure it on the bench with the file at rest");

  /** Noise of the distance beside the feature noise, µm. */
  public static final Parameter DISTANCE_NOISE =
      Parameter.of("distance_noise_mm")
          .unit("mm", 3)
          .range("0.001", "1")
          .initially("0.03")
          .text(
              "Standard deviation of one distance, without the part that feature noise "
                  + "causes.")
          .source("assumed");

  /** Step between two values of an outside locator, µm. */
  public static final Parameter LOCATOR_STEP =
      Parameter.of("locator_step_mm")
          .unit("mm", 3)
          .range("0.001", "1")
          .initially("0.1")
          .text(
              "Step between two neighbouring values of the display; policy locator needs " + "it.")
          .source("the locator's display");

  /** Values per second of an outside locator, mHz. */
  public static final Parameter LOCATOR_RATE =
      Parameter.of("locator_rate_hz")
          .unit("Hz", 3)
          .range("2", "1000")
          .initially("10")
          .text("Values per second of the locator; policy locator needs it.")
          .source("measure it at the locator's output");

  /** Error of an outside locator, declared by its owner, µm. */
  public static final Parameter LOCATOR_ERROR =
      Parameter.of("locator_error_mm")
          .unit("mm", 3)
          .range("0", "3")
          .initially("0")
          .text(
              "Error of the locator that it stays within 95 times in 100, declared by its owner; 0:"
                  + " none stated, and no reading is SURE. The bound of a reading adds half a step"
                  + " and one update at locator_feed_mm_s.")
          .source("measure it with canals of known length");

  /** Fastest feed of a file with an outside locator, µm/s. */
  public static final Parameter LOCATOR_FEED =
      Parameter.of("locator_feed_mm_s")
          .unit("mm/s", 3)
          .range("0.05", "20")
          .initially("1")
          .text(
              "Fastest feed with policy locator. The stop allows for this feed during the "
                  + "age of a value and during reaction_ms.")
          .source("assumed");

  /** Slowest feed that a display must follow, µm/s. */
  public static final Parameter LOCATOR_SLOW =
      Parameter.of("locator_slow_mm_s")
          .unit("mm/s", 3)
          .range("0.01", "20")
          .initially("0.1")
          .text(
              "Slowest feed with policy locator. The display counts as frozen when it keeps "
                  + "its value, while the file turns, for longer than one step takes at this feed "
                  + "plus one update.")
          .source("assumed");

  /** How fast the feed may change, µm/s in a second. */
  public static final Parameter FEED_CHANGE =
      Parameter.of("feed_change_mm_s")
          .unit("mm/s", 3)
          .range("0.01", "50")
          .initially("0.7")
          .text(
              "Standard deviation of the change of the feed in one second. A greater value "
                  + "follows faster; a smaller value is smoother.")
          .source("assumed");

  /** Strokes of a hand in and out, about its feed, µm. */
  public static final Parameter STROKE =
      Parameter.of("stroke_mm")
          .unit("mm", 3)
          .range("0", "2")
          .initially("0.3")
          .text(
              "Standard deviation of the strokes in and out about the feed, about 0.35 of a "
                  + "stroke from reversal to reversal; 0 for a stage.")
          .source("assumed: strokes of up to 1 mm");

  /** Bound from which a distance is of no use, µm. */
  public static final Parameter REFUSE_BOUND =
      Parameter.of("refuse_bound_mm")
          .unit("mm", 3)
          .range("0.1", "10")
          .initially("1.2")
          .text(
              "Stated bound above which policy approach gives no distance near the foramen; wider"
                  + " than tolerance_mm.")
          .source("assumed");

  /** How many standard errors before the standoff a stop comes, hundredths. */
  public static final Parameter CAUTION =
      Parameter.of("caution_errors")
          .decimals(2)
          .range("0", "4")
          .initially("0")
          .text(
              "Standard errors of the distance by which a stop comes before the standoff. A "
                  + "greater value keeps more files short of the foramen and stops more of them "
                  + "early. Policy approach only: no other built-in policy reports its error.")
          .source("0: the file stops where its most probable place is the standoff");

  /** Share of the current around the canal from which it is called a leak, %. */
  public static final Parameter LEAK_CURRENT =
      Parameter.of("leak_current_percent")
          .unit("%")
          .range("1", "100")
          .initially("10")
          .text(
              "Share of the current that leaks around the canal above which policy approach "
                  + "names the leak as the cause of an uncertain distance.")
          .source("assumed");

  /** All of them. */
  public static final ParameterTable TABLE =
      new ParameterTable(
          List.of(
              POLICY,
              WEIGHTS,
              LOW,
              HIGH,
              OPEN,
              UNWETTED,
              ENTER,
              LEAK_FLOOR,
              LEAK_SHARE,
              DRY_SHARE,
              ENTER_DISTANCE,
              LEAVE_DISTANCE,
              LOCATOR_STEP,
              LOCATOR_RATE,
              LOCATOR_ERROR,
              LOCATOR_FEED,
              LOCATOR_SLOW,
              ENTER_SAMPLES,
              ENTER_DWELL,
              LEAVE_DWELL,
              FEATURE_NOISE,
              DISTANCE_NOISE,
              FEED_CHANGE,
              STROKE,
              REFUSE_BOUND,
              CAUTION,
              LEAK_CURRENT));

  private SenseParameters() {}

  /**
   * The table with given sensing policies.
   *
   * @param policies their names, the default first
   * @return as {@link #TABLE}, with these choices for {@code policy}
   */
  static ParameterTable table(List<String> policies) {
    List<Parameter> all = new ArrayList<>(TABLE.parameters());
    all.set(all.indexOf(POLICY), policy(policies));
    return new ParameterTable(all);
  }
}
