package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;

/** Keys of the scene section {@code front_end}: how the position signal is measured. */
public final class FrontEndSection {
  /** The signal is the distance that an outside locator reports. */
  public static final String DISTANCE = "distance";

  /** What the front end delivers. */
  public static final Parameter SIGNAL =
      Parameter.of("signal")
          .choice("impedance", DISTANCE)
          .text("Complex impedance, or the distance that an outside locator reports.")
          .source("design choice");

  /** Measuring frequencies, Hz; 0: unused. */
  public static final List<Parameter> FREQUENCIES =
      List.of(
          frequency(1, "100", "700"),
          frequency(2, "0", "7000"),
          frequency(3, "0", "0"),
          frequency(4, "0", "0"));

  /** Time between samples, ms. */
  public static final Parameter SAMPLE =
      Parameter.of("sample_ms")
          .unit("ms", 3)
          .range("1", "1000")
          .initially("5")
          .text("Time between samples.")
          .source("assumed");

  /** Time from the middle of a measurement until its result arrives, ms. */
  public static final Parameter DELAY =
      Parameter.of("delay_ms")
          .unit("ms", 3)
          .range("0", "1000")
          .initially("5")
          .text("Time from a measurement until its result arrives.")
          .source("assumed");

  /** Noise of one reading, standard deviation of each part relative to the magnitude, %. */
  public static final Parameter NOISE =
      Parameter.of("noise_percent")
          .unit("%", 3)
          .range("0", "50")
          .initially("0.3")
          .text(
              "Noise of a reading: standard deviation of real and imaginary part, as a "
                  + "share of the magnitude.")
          .source("assumed");

  /** Amplitude of mains hum relative to the magnitude, %. */
  public static final Parameter HUM =
      Parameter.of("hum_percent")
          .unit("%", 3)
          .range("0", "50")
          .initially("0.05")
          .text("Amplitude of mains hum in a reading, as a share of the magnitude.")
          .source("assumed");

  /** Mains frequency, Hz. */
  public static final Parameter HUM_FREQUENCY =
      Parameter.of("hum_hz")
          .unit("Hz", 2)
          .range("1", "1000")
          .initially("50.02")
          .text("Frequency of the hum.")
          .source("mains 50 Hz and its drift");

  /** Error of the scale, %. */
  public static final Parameter GAIN_ERROR =
      Parameter.of("gain_error_percent")
          .unit("%", 3)
          .range("-50", "50")
          .initially("0")
          .text("Scale error of both parts.")
          .source("a calibrated front end");

  /** Capacitance of the cable, pF. */
  public static final Parameter STRAY =
      Parameter.of("stray_pf")
          .unit("pF")
          .range("1", "100000")
          .initially("100")
          .text("Capacitance of the measuring cable.")
          .source("assumed");

  /** Contact resistance of the lip clip, Ω. */
  public static final Parameter CLIP =
      Parameter.of("clip_ohm")
          .unit("Ω")
          .range("0", "100000000")
          .initially("0")
          .text(
              "Resistance between the lip clip and the mucosa, added to that of body_ohm. A clip "
                  + "that hangs on dry skin has some 10 to 1000 kΩ; one that touches nothing, 100 MΩ.")
          .source("a clip on moist mucosa, whose contact is part of body_ohm; others assumed");

  /** Least magnitude before the converter saturates, Ω. */
  public static final Parameter RAIL =
      Parameter.of("rail_ohm")
          .unit("Ω")
          .range("0", "10000")
          .initially("100")
          .text(
              "Least magnitude that the converter can measure; below it the converter is "
                  + "saturated.")
          .source("assumed");

  /** Noise of an outside locator, µm. */
  public static final Parameter LOCATOR_NOISE =
      Parameter.of("locator_noise_um")
          .unit("µm")
          .range("0", "2000")
          .initially("30")
          .text("Noise of an outside locator before rounding to a step, standard deviation.")
          .source("assumed");

  /** Step between two values of an outside locator, µm. */
  public static final Parameter LOCATOR_STEP =
      Parameter.of("locator_step_um")
          .unit("µm")
          .range("1", "1000")
          .initially("100")
          .text("Step between two neighbouring values of an outside locator.")
          .source("assumed");

  /** Values per second of an outside locator, mHz. */
  public static final Parameter LOCATOR_RATE =
      Parameter.of("locator_rate_hz")
          .unit("Hz", 3)
          .range("2", "1000")
          .initially("10")
          .text(
              "Rate at which an outside locator gives a value or reports no contact; "
                  + "sample_ms applies to impedance only.")
          .source("assumed");

  /** Time constant of the low-pass filter before the samples, ms. */
  public static final Parameter SETTLING =
      Parameter.of("settle_ms")
          .unit("ms", 3)
          .range("0", "1000")
          .initially("0")
          .text("Time constant of the low-pass filter before the samples.")
          .source("a front end that settles within a sample");

  /** Drift of the scale, %/min. */
  public static final Parameter DRIFT =
      Parameter.of("drift_percent_per_min")
          .unit("%/min", 3)
          .range("-20", "20")
          .initially("0")
          .text("Drift of the scale of both parts.")
          .source("a front end without drift");

  /** Step of the converter, Ω. */
  public static final Parameter RESOLUTION =
      Parameter.of("resolution_ohm")
          .unit("Ω", 3)
          .range("0.001", "1000")
          .initially("0.001")
          .text("Step of the converter.")
          .source("step of the frame");

  /** Measuring current, µA r.m.s. */
  public static final Parameter EXCITATION =
      Parameter.of("excitation_ua")
          .unit("µA", 2)
          .range("0.1", "10")
          .initially("10")
          .text("Measuring current, r.m.s.; noise grows in inverse proportion to it.")
          .source(
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
              CLIP,
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
    return Parameter.of("frequency_" + number + "_hz")
        .unit("Hz")
        .range(min, "20000")
        .initially(defaultHz)
        .text(
            number == 1
                ? "First and lowest measuring frequency."
                : "Measuring frequency, above the one before; 0: unused.")
        .source(
            "Cramér–Rao bound of the model: within 6 % of the best choice, docs/research/depth-estimate.md");
  }
}
