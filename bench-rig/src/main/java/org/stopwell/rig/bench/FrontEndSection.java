package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;

/** Keys of the scene section {@code front_end}: how the position signal is measured. */
public final class FrontEndSection {
  /** What the front end delivers. */
  public static final Parameter SIGNAL =
      Parameter.choice(
          "signal",
          List.of("impedance", "distance"),
          "Complex impedance, or the distance that an outside locator reports",
          "design choice");

  /** Measuring frequencies, Hz; 0 is unused. */
  public static final List<Parameter> FREQUENCIES =
      List.of(
          frequency(1, "100", "700"),
          frequency(2, "0", "7000"),
          frequency(3, "0", "0"),
          frequency(4, "0", "0"));

  /** Time from sample to sample, ms. */
  public static final Parameter SAMPLE =
      Parameter.number(
          "sample_ms", "ms", 3, "1", "1000", "5", "Time from sample to sample", "assumed");

  /** Time from the middle of a measurement until its result arrives, ms. */
  public static final Parameter DELAY =
      Parameter.number(
          "delay_ms",
          "ms",
          3,
          "0",
          "1000",
          "5",
          "Time from a measurement until its result arrives",
          "assumed");

  /** Noise of one reading, standard deviation of each part relative to the magnitude, %. */
  public static final Parameter NOISE =
      Parameter.number(
          "noise_percent",
          "%",
          3,
          "0",
          "50",
          "0.3",
          "Noise of a reading: standard deviation of real and imaginary part, of the magnitude",
          "assumed");

  /** Amplitude of mains hum relative to the magnitude, %. */
  public static final Parameter HUM =
      Parameter.number(
          "hum_percent",
          "%",
          3,
          "0",
          "50",
          "0.05",
          "Amplitude of mains hum in a reading, of the magnitude",
          "assumed");

  /** Mains frequency, Hz. */
  public static final Parameter HUM_FREQUENCY =
      Parameter.number(
          "hum_hz",
          "Hz",
          2,
          "1",
          "1000",
          "50.02",
          "Frequency of the hum",
          "mains 50 Hz and its drift");

  /** Error of the scale, %. */
  public static final Parameter GAIN_ERROR =
      Parameter.number(
          "gain_error_percent",
          "%",
          3,
          "-50",
          "50",
          "0",
          "Error of the scale of both parts",
          "a calibrated front end");

  /** Capacitance of the cable, pF. */
  public static final Parameter STRAY =
      Parameter.number(
          "stray_pf",
          "pF",
          0,
          "1",
          "100000",
          "100",
          "Capacitance of the measuring cable",
          "assumed");

  /** Least magnitude before the converter saturates, Ω. */
  public static final Parameter RAIL =
      Parameter.number(
          "rail_ohm",
          "Ω",
          0,
          "0",
          "10000",
          "100",
          "Least magnitude that the converter can measure; below it is saturated",
          "assumed");

  /** Noise of an outside locator, µm. */
  public static final Parameter LOCATOR_NOISE =
      Parameter.number(
          "locator_noise_um",
          "µm",
          0,
          "0",
          "2000",
          "30",
          "Noise of an outside locator before its value is rounded to a step, standard deviation",
          "assumed");

  /** Step between two values of an outside locator, µm. */
  public static final Parameter LOCATOR_STEP =
      Parameter.number(
          "locator_step_um",
          "µm",
          0,
          "1",
          "1000",
          "100",
          "Step between two neighbouring values that an outside locator shows",
          "assumed");

  /** Values per second of an outside locator, mHz. */
  public static final Parameter LOCATOR_RATE =
      Parameter.number(
          "locator_rate_hz",
          "Hz",
          3,
          "2",
          "1000",
          "10",
          "How often per second an outside locator gives a value or says that it has no contact;"
              + " sample_ms is of impedance alone",
          "assumed");

  /** Time constant of the low-pass filter before the samples, ms. */
  public static final Parameter SETTLING =
      Parameter.number(
          "settle_ms",
          "ms",
          3,
          "0",
          "1000",
          "0",
          "Time constant of the low-pass filter before the samples",
          "a front end that settles within a sample");

  /** Drift of the scale, %/min. */
  public static final Parameter DRIFT =
      Parameter.number(
          "drift_percent_per_min",
          "%/min",
          3,
          "-20",
          "20",
          "0",
          "Drift of the scale of both parts",
          "a front end at rest");

  /** Step of the converter, Ω. */
  public static final Parameter RESOLUTION =
      Parameter.number(
          "resolution_ohm",
          "Ω",
          3,
          "0.001",
          "1000",
          "0.001",
          "Step of the converter",
          "step of the frame");

  /** Measuring current, µA r.m.s. */
  public static final Parameter EXCITATION =
      Parameter.number(
          "excitation_ua",
          "µA",
          2,
          "0.1",
          "10",
          "10",
          "Measuring current, r.m.s.; a smaller one makes a reading noisier in proportion",
          "limit of 10 µA for patient auxiliary current, IEC 60601-1 type CF in normal condition");

  /** All keys. */
  public static final ParameterTable TABLE =
      new ParameterTable(
          List.of(
              SIGNAL,
              FREQUENCIES.get(0),
              FREQUENCIES.get(1),
              FREQUENCIES.get(2),
              FREQUENCIES.get(3),
              SAMPLE,
              DELAY,
              NOISE,
              HUM,
              HUM_FREQUENCY,
              GAIN_ERROR,
              STRAY,
              RAIL,
              LOCATOR_NOISE,
              LOCATOR_STEP,
              LOCATOR_RATE,
              SETTLING,
              DRIFT,
              RESOLUTION,
              EXCITATION));

  static {
    if (FREQUENCIES.size() != ControllerInput.MAX_FREQUENCIES) {
      throw new IllegalStateException("one key per frequency of a sample");
    }
  }

  private FrontEndSection() {}

  /**
   * The frequencies in use.
   *
   * @param frontEnd values of this section
   * @return Hz, in the order of the keys
   */
  public static double[] hertz(ParameterValues frontEnd) {
    return FREQUENCIES.stream().mapToDouble(frontEnd::get).filter(hz -> hz != 0).toArray();
  }

  private static Parameter frequency(int number, String min, String defaultHz) {
    return Parameter.number(
        "frequency_" + number + "_hz",
        "Hz",
        0,
        min,
        "20000",
        defaultHz,
        number == 1
            ? "First and lowest measuring frequency"
            : "Measuring frequency, above the one before; 0 is unused",
        "information study of the model: within 6 % of the best pair, docs/model-card.md");
  }
}
