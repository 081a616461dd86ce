package org.stopwell.harness.report;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Verdict;

/** Words for verdicts and counts. */
final class Words {
  private static final Pattern NUMBER_AND_UNIT = Pattern.compile("(\\d) (%|mm|µm|ms|rpm|N·cm)");

  private Words() {}

  static String verdict(Verdict verdict) {
    return switch (verdict) {
      case PASS -> "PASS";
      case FAIL -> "FAIL";
      case RIG_FAULT -> "RIG FAULT";
      case SAFETY_STOP -> "SAFETY STOP";
      case UNDECIDED -> "UNDECIDED";
    };
  }

  static String claimVerdict(Verdict verdict) {
    return switch (verdict) {
      case PASS -> "HOLDS";
      case FAIL -> "CONTRADICTED";
      case RIG_FAULT -> "RIG FAULT";
      case SAFETY_STOP -> "SAFETY STOP";
      case UNDECIDED -> "NOT DECIDED";
    };
  }

  static String endpoint(Claim.Endpoint endpoint) {
    return switch (endpoint) {
      case WITHIN -> "within tolerance";
      case OVER_TRAVEL -> "past the foramen";
      case OVERRUN -> "past the depth limit";
      case REFUSED -> "refused";
      case BIAS -> "bias";
    };
  }

  /** The name of the count of over-travel in some conditions. */
  static String past(List<ConditionSummary> conditions) {
    return conditions.stream().anyMatch(c -> c.condition().overTravelBelowMicrons() < 0)
        ? "Past the foramen or the planned band"
        : "Past the foramen";
  }

  /** What numbers are, in brackets behind a title; nothing for a physical bench. */
  static String label(String what) {
    return what.isEmpty() ? "" : " (" + what + ")";
  }

  /** What the first lines of a page say of all its numbers; empty for a physical bench. */
  static String banner(RunHeader header) {
    return header.origin().imported()
        ? "Not measured here. Every number on this page was measured elsewhere and read from "
            + header.origin().table()
            + "."
        : header.bench().simulated()
            ? "Simulated. Every number on this page comes from a model, not from hardware."
            : "";
  }

  /** What a run is, on one line. */
  static String run(RunHeader header) {
    if (header.origin().imported()) {
      return "plan "
          + header.planName()
          + ", "
          + header.label()
          + ", from "
          + header.origin().table()
          + ", read "
          + header.startedAt();
    }
    return "plan "
        + header.planName()
        + ", build "
        + header.build()
        + ", "
        + header.bench().kind()
        + " bench, started "
        + header.startedAt();
  }

  /** Keeps a number and its unit on one line. */
  static String tied(String text) {
    return NUMBER_AND_UNIT.matcher(text).replaceAll("$1\u00a0$2");
  }

  /** A key that a narrow column may break after a dot or a low line. */
  static String breakable(String key) {
    return key.replaceAll("(\\p{Alpha}[._])", "$1\u200b");
  }

  static String count(long count, String one) {
    return count(count, one, one + "s");
  }

  static String count(long count, String one, String several) {
    return count + " " + (count == 1 ? one : several);
  }

  static String millimetres(double microns) {
    return Double.isNaN(microns)
        ? Numbers.NOT_ESTIMABLE
        : Numbers.millimetres(OptionalDouble.of(microns));
  }

  /** An interval of lengths that have no sign. */
  static String plain(Optional<Interval> microns) {
    return Numbers.millimetres(microns).replace("+", "");
  }

  static String decimals(int decimals, double value) {
    return String.format(Locale.ROOT, "%." + decimals + "f", value);
  }

  static String probability(double p) {
    return p < 0.0001 ? "< 0.0001" : decimals(4, p);
  }
}
