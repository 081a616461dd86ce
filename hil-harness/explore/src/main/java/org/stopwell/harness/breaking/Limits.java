package org.stopwell.harness.breaking;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.SensingNeeds;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.fault.FaultKind;

/**
 * The limits of the ingredients: what a share of 1 is. Those of the hand are assumed or published,
 * those of the front end follow from what the settings declare, and that of a fault is the usual
 * strength of its kind.
 */
public final class Limits {
  /** Name of the limit of the duration of a fault, ms. */
  public static final String FAULT_FOR = "faults.for_ms";

  /** Section of the hand. */
  static final String HAND = "hand";

  /** Section of the front end. */
  static final String FRONT_END = "front_end";

  /** What stands before a kind of fault. */
  static final String FAULTS = "faults.";

  /** Duration of a fault, ms: longer than every reaction of the guard; assumed. */
  private static final String USUAL_FOR = "2000";

  /** Of the hand, as in a plan. */
  private static final Map<Parameter, String> OF_HAND =
      new LinkedHashMap<>(
          Map.of(
              HandSection.FEED, "2", // assumed: a quick hand
              HandSection.REACTION, "300", // assumed: twice the usual one
              HandSection.PUSH_THROUGH, "0.3", // assumed
              HandSection.TREMOR, "115", // 200 µm rms in three dimensions, PMC3989364
              HandSection.PECK_STROKE, "4")); // Restor Dent Endod 2016;41(4)

  /** Magnitude at which a drift in Ω is compared with a drift in percent, Ω; assumed. */
  private static final double MAGNITUDE_OHMS = 10_000;

  /** Change of the signal along the canal, as a share per mm; assumed. */
  private static final double SHARE_PER_MM = 0.15;

  /** Amplitude of a sine over its root mean square. */
  private static final double AMPLITUDE = StrictMath.sqrt(2);

  private final Map<String, BigDecimal> stated;

  private Limits(Map<String, BigDecimal> stated) {
    this.stated = stated;
  }

  /**
   * The usual limits with some replaced.
   *
   * @param texts limits by name, in the unit of the name: a key of {@code hand} or {@code
   *     front_end} that takes part, {@code faults.for_ms}, or {@code faults.} and a kind for its
   *     strength
   * @return the limits
   * @throws BreakException with every mistake
   */
  public static Limits with(Map<String, String> texts) throws BreakException {
    List<String> mistakes = new ArrayList<>();
    Map<String, BigDecimal> stated = new LinkedHashMap<>();
    texts.forEach(
        (name, text) -> {
          Range range = ranges().get(name);
          if (range == null) {
            mistakes.add(name + " is no limit; known: " + String.join(", ", ranges().keySet()));
            return;
          }
          try {
            BigDecimal value = new BigDecimal(text);
            if (value.compareTo(range.low()) < 0 || value.compareTo(range.high()) > 0) {
              mistakes.add((name + ": " + text + " is outside " + range.text()).strip());
            } else {
              stated.put(name, value);
            }
          } catch (NumberFormatException e) {
            mistakes.add(name + ": \"" + text + "\" is not a number");
          }
        });
    if (!mistakes.isEmpty()) {
      throw new BreakException(mistakes);
    }
    return new Limits(stated);
  }

  /** The limits that replace the usual ones, by name. */
  SortedMap<String, BigDecimal> stated() {
    return new TreeMap<>(stated);
  }

  private record Range(BigDecimal low, BigDecimal high, String unit) {
    String text() {
      return low.toPlainString() + " to " + high.toPlainString() + " " + unit;
    }
  }

  private static Map<String, Range> ranges() {
    Map<String, Range> ranges = new LinkedHashMap<>();
    for (Parameter p : ofHand()) {
      ranges.put(HAND + "." + p.key(), range(p));
    }
    for (Parameter p : ofFrontEnd()) {
      ranges.put(FRONT_END + "." + p.key(), range(p));
    }
    ranges.put(FAULT_FOR, new Range(BigDecimal.ONE, new BigDecimal(3_600_000), "ms"));
    for (FaultKind kind : FaultKinds.strong()) {
      FaultKind.Strength s = kind.strength();
      ranges.put(
          FAULTS + kind.key(),
          new Range(BigDecimal.valueOf(s.least()), BigDecimal.valueOf(s.most()), s.meaning()));
    }
    return ranges;
  }

  private static Range range(Parameter p) {
    return new Range(new BigDecimal(p.human(p.min())), new BigDecimal(p.human(p.max())), p.unit());
  }

  /** Keys of the hand that take part, in the order of output. */
  static List<Parameter> ofHand() {
    return List.of(
        HandSection.FEED,
        HandSection.REACTION,
        HandSection.PUSH_THROUGH,
        HandSection.TREMOR,
        HandSection.PECK_STROKE);
  }

  /** Keys of the front end that take part. */
  static List<Parameter> ofFrontEnd() {
    return List.of(
        FrontEndSection.NOISE,
        FrontEndSection.HUM,
        FrontEndSection.DRIFT,
        FrontEndSection.DELAY,
        FrontEndSection.LOCATOR_NOISE);
  }

  /** The limit of a key of the hand, base units. */
  long hand(Parameter p) {
    return base(p, stated.getOrDefault(HAND + "." + p.key(), new BigDecimal(OF_HAND.get(p))));
  }

  /** The limit of a key of the front end, base units. */
  long frontEnd(Parameter p, ControllerSettings settings, ParameterValues frontEnd) {
    BigDecimal given = stated.get(FRONT_END + "." + p.key());
    if (given != null) {
      return base(p, given);
    }
    ParameterValues sense = settings.section("sense");
    ParameterValues guard = settings.section("guard");
    double percent = sense.get(SenseParameters.FEATURE_NOISE) * 1e-3;
    double value;
    if (p.equals(FrontEndSection.NOISE)) {
      value = percent;
    } else if (p.equals(FrontEndSection.HUM)) {
      value = AMPLITUDE * percent; // the same root mean square as the declared noise
    } else if (p.equals(FrontEndSection.DRIFT)) {
      value = driftPercentPerMinute(settings, guard);
    } else if (p.equals(FrontEndSection.DELAY)) {
      // A sample is up to one sampling interval older than its delay.
      long microseconds = guard.get(GuardParameters.SIGNAL_AGE) / 1000;
      value = (microseconds - frontEnd.get(FrontEndSection.SAMPLE)) * 1e-3;
    } else {
      value = sense.get(SenseParameters.DISTANCE_NOISE);
    }
    return Math.max(p.min(), Math.min(p.max(), base(p, BigDecimal.valueOf(value))));
  }

  /** The declared drift of a resting file as a drift of the scale, and the range of the key. */
  private static double driftPercentPerMinute(ControllerSettings settings, ParameterValues guard) {
    boolean curve =
        settings.sensing().single() == SensingNeeds.Single.RATIO
            || settings.sensing().single() == SensingNeeds.Single.MAGNITUDE;
    double perSecond =
        curve
            ? guard.get(GuardParameters.DRIFT_OHMS) * 1e-3 / MAGNITUDE_OHMS
            : guard.get(GuardParameters.DRIFT_DISTANCE) * 1e-3 * SHARE_PER_MM;
    return perSecond * 60 * 100;
  }

  /** Which keys of the front end act on a signal. */
  static boolean acts(Parameter p, ControllerSettings settings) {
    boolean locator = settings.sensing().signal() == PositionKind.DISTANCE;
    return p.equals(FrontEndSection.LOCATOR_NOISE) == locator;
  }

  /** The limit of the duration of a fault, ms. */
  double faultMillis() {
    return stated.getOrDefault(FAULT_FOR, new BigDecimal(USUAL_FOR)).doubleValue();
  }

  /** The limit of the strength of a kind of fault. */
  double strength(FaultKind kind) {
    BigDecimal given = stated.get(FAULTS + kind.key());
    return given == null ? kind.strength().usual() : given.doubleValue();
  }

  private static long base(Parameter p, BigDecimal value) {
    return value
        .movePointRight(p.decimals())
        .setScale(0, java.math.RoundingMode.HALF_EVEN)
        .longValueExact();
  }
}
