package org.stopwell.harness.record;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import java.util.function.ToIntFunction;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.trial.DepthReached;
import org.stopwell.harness.trial.DeviceActs;
import org.stopwell.harness.trial.DeviceTrial;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * One column of the trial table, in the run file and in every export.
 *
 * @param name lower case, with its unit at the end
 * @param kind how the value is kept
 * @param unit unit of the value, empty for a pure number or a word
 * @param meaning what it says, for the data dictionary
 * @param value the value of a trial: a {@link Long} for {@link Kind#INTEGER} and {@link Kind#FLAG},
 *     else a {@link String}
 */
public record TrialColumn(
    String name, Kind kind, String unit, String meaning, Function<TrialResult, Object> value) {

  /** How a value is kept. */
  public enum Kind {
    /** A whole number of at most 64 bits. */
    INTEGER,
    /** 0 or 1. */
    FLAG,
    /** A word or a sentence. */
    TEXT
  }

  /** The stated bound of the reading, from {@link Schema#BOUNDED} on. */
  static final String BOUND = "bound_um";

  /** The version from which on a column is there; the others are there from the first on. */
  private static final Map<String, Integer> SINCE =
      Map.ofEntries(
          Map.entry(BOUND, Schema.BOUNDED),
          Map.entry("depth_um", Schema.DEEP),
          Map.entry("overrun_um", Schema.DEEP),
          Map.entry("torque_unm", Schema.DEEP),
          Map.entry("torque_reactions", Schema.DEEP),
          Map.entry("tooth", Schema.DEVICES),
          Map.entry("unit", Schema.DEVICES),
          Map.entry("operator", Schema.DEVICES),
          Map.entry("feed_um_per_s", Schema.DEVICES),
          Map.entry("turned_until_um", Schema.DEVICES),
          Map.entry("constriction_um", Schema.DEVICES),
          Map.entry("constriction_u95_um", Schema.DEVICES),
          Map.entry("start_um", Schema.DEVICES),
          Map.entry("act_um", Schema.DEVICES),
          Map.entry("act_u95_um", Schema.DEVICES),
          Map.entry("still_us", Schema.DEVICES),
          Map.entry("still_u95_us", Schema.DEVICES),
          Map.entry("still_mdeg", Schema.DEVICES),
          Map.entry("act_feed_um_per_s", Schema.DEVICES),
          Map.entry("reversed", Schema.DEVICES),
          Map.entry("restart_um", Schema.DEVICES));

  /** Every column of the run file, in the order of the table and of the hash chain. */
  public static final List<TrialColumn> ALL =
      List.of(
          integer("trial", "", "position in run order, from 0", r -> (long) r.index()),
          text("condition", "name of the condition in the plan", TrialResult::condition),
          integer("seed", "", "seed of everything random in the trial", TrialResult::seed),
          text(
              "expectation",
              "expectation of the plan: STOP, REFUSE, PATENCY, DEPTH_LIMIT, STOP_OR_REFUSE or"
                  + " COMPARE",
              r -> r.expectation().name()),
          text(
              "verdict",
              "PASS, FAIL, RIG_FAULT, SAFETY_STOP or UNDECIDED",
              r -> r.verdict().name()),
          text("code", "cause, one word of a closed list", TrialResult::code),
          text("message", "cause, one sentence", TrialResult::message),
          flag("stopped", "1 when the controller stopped at the standoff", TrialResult::stopped),
          integer(
              "remaining_um",
              "µm",
              "true distance to the foramen at rest, positive short of it; 0 unless stopped",
              r -> (long) r.remainingMicrons()),
          integer(
              "stop_error_um",
              "µm",
              "true distance to the foramen at rest minus the standoff (set distance short"
                  + " of the foramen), or depth limit minus depth at rest; 0 unless it rested"
                  + " there",
              r -> (long) r.stopErrorMicrons()),
          integer(
              "deepest_um",
              "µm",
              "least true remaining distance of the whole trial; below 0 is past the foramen",
              r -> (long) r.deepestMicrons()),
          integer(
              "reading_um",
              "µm",
              "reading of the controller at the decision to stop; 0 unless stopped",
              r -> (long) r.readingMicrons()),
          integer(
              BOUND,
              "µm",
              "stated bound of that reading: its error lies within it 95 times in 100; 0: none"
                  + " stated, or not stopped",
              r -> (long) r.boundMicrons()),
          text("state", "last state of the controller", r -> r.state().name()),
          text("reason", "last reason of the controller", r -> r.reason().name()),
          text("trust", "trust at the decision, or at the end", r -> r.trust().name()),
          text("cause", "cause at the decision, or at the end", r -> r.cause().name()),
          integer(
              "stop_time_ns",
              "ns",
              "bench time of the decision to stop; 0 unless stopped",
              TrialResult::stopTimeNs),
          integer("duration_ns", "ns", "bench time of the whole trial", TrialResult::durationNs),
          integer("steps", "", "steps the controller took", TrialResult::steps),
          integer(
              "worst_lateness_ns",
              "ns",
              "greatest lateness of a step",
              TrialResult::worstLatenessNs),
          integer(
              "state_hash", "", "hash of the last state of the controller", TrialResult::stateHash),
          share("sense_um", "truth minus unfiltered reading", r -> r.chain().senseMicrons()),
          share("filter_um", "unfiltered minus filtered reading", r -> r.chain().filterMicrons()),
          share("decide_um", "lead of the controller", r -> r.chain().decideMicrons()),
          share("link_um", "motion while the sample was in transit", r -> r.chain().linkMicrons()),
          share("actuate_um", "motion until the motor reacted", r -> r.chain().actuateMicrons()),
          share("coast_um", "motion from the reaction to rest", r -> r.chain().coastMicrons()),
          integer(
              "depth_um",
              "µm",
              "depth below the reference point at rest, by the depth axis; 0 unless the file rested"
                  + " at the depth limit",
              r -> (long) r.depth().depthMicrons()),
          integer(
              "overrun_um",
              "µm",
              "greatest depth of the whole trial minus the depth limit, by the depth axis; below 0 the"
                  + " limit was never reached; 0 unless the plan expects a depth limit",
              r -> (long) r.depth().overrunMicrons()),
          integer(
              "torque_unm",
              "µN·m",
              "greatest torque at the file, mean over 50 ms; 0 unless the plan expects a depth limit",
              r -> (long) r.depth().torqueMicroNewtonMetres()),
          integer(
              "torque_reactions",
              "",
              "how often the torque limit was answered on the way; 0 unless the plan expects a depth"
                  + " limit",
              r -> (long) r.depth().torqueReactions()),
          text(
              "tooth",
              "code of the tooth; trials on one tooth are repeats; empty unless a device of its"
                  + " own is tested",
              r -> r.device().tooth()),
          text("unit", "code of the unit of that device", r -> r.device().unit()),
          text("operator", "code of the person who moved it", r -> r.device().operator()),
          integer(
              "feed_um_per_s",
              "µm/s",
              "planned feed of that device; 0 when unknown",
              r -> (long) r.device().feedMicronsPerSecond()),
          integer(
              "turned_until_um",
              "µm",
              "distance to the foramen where the rotation of that device ended; 0 unless stopped",
              r -> (long) r.device().turnedUntilMicrons()),
          integer(
              "constriction_um",
              "µm",
              "distance from the constriction of that tooth to the foramen; 0 when unknown",
              r -> (long) r.device().constrictionMicrons()),
          integer(
              "constriction_u95_um",
              "µm",
              "U95 of that distance; 0 when unknown",
              r -> (long) r.device().constrictionBoundMicrons()),
          integer(
              "start_um",
              "µm",
              "distance to the foramen where a watched device started; 0 when it did not",
              r -> (long) r.device().acts().startMicrons()),
          integer(
              "act_um",
              "µm",
              "distance where it stopped or turned back; 0 when it did not",
              r -> (long) r.device().acts().actMicrons()),
          integer(
              "act_u95_um",
              "µm",
              "expanded uncertainty of act_um; 0: it did not act",
              r -> (long) r.device().acts().actBoundMicrons()),
          integer(
              "still_us",
              "µs",
              "time from that act to standstill",
              r -> (long) r.device().acts().stillMicros()),
          integer(
              "still_u95_us",
              "µs",
              "expanded uncertainty of still_us",
              r -> (long) r.device().acts().stillBoundMicros()),
          integer(
              "still_mdeg",
              "m°",
              "angle from that act to standstill",
              r -> (long) r.device().acts().stillMilliDegrees()),
          integer(
              "act_feed_um_per_s",
              "µm/s",
              "feed at that act",
              r -> (long) r.device().acts().feedMicronsPerSecond()),
          integer(
              "reversed",
              "",
              "1 when it turned back, else 0",
              r -> (long) r.device().acts().reversed()),
          integer(
              "restart_um",
              "µm",
              "distance where it turned again after a withdrawal; 0 without one",
              r -> (long) r.device().acts().restartMicrons()));

  /** Every column as people see it: trials are numbered from 1, as in the report. */
  public static final List<TrialColumn> EXPORTED = exported();

  /** Columns that differ between settings or hands by design. */
  private static final Set<String> BY_DESIGN =
      Set.of(
          "reading_um",
          BOUND,
          "state",
          "reason",
          "trust",
          "cause",
          "stop_time_ns",
          "duration_ns",
          "steps",
          "state_hash",
          "sense_um",
          "filter_um",
          "decide_um",
          "link_um",
          "actuate_um",
          "coast_um",
          "torque_unm",
          "torque_reactions",
          "unit",
          "turned_until_um",
          "start_um",
          "act_um",
          "act_u95_um",
          "still_us",
          "still_u95_us",
          "still_mdeg",
          "act_feed_um_per_s",
          "reversed",
          "restart_um");

  /**
   * The columns of an export.
   *
   * @param coded whether the run is blinded and not unblinded
   * @return {@link #EXPORTED}, while coded without those that differ between levels by design
   */
  public static List<TrialColumn> exported(boolean coded) {
    return coded
        ? EXPORTED.stream().filter(column -> !BY_DESIGN.contains(column.name())).toList()
        : EXPORTED;
  }

  /** The columns that a version of the run file has. */
  static List<TrialColumn> of(int version) {
    return ALL.stream().filter(column -> version >= since(column.name())).toList();
  }

  /** The version of the run file from which on a column is there. */
  static int since(String column) {
    return SINCE.getOrDefault(column, 1);
  }

  private static List<TrialColumn> exported() {
    List<TrialColumn> columns = new ArrayList<>(ALL);
    columns.set(0, integer("trial", "", "number in run order, from 1", r -> r.index() + 1L));
    return List.copyOf(columns);
  }

  /** Where a stored trial's values come from. */
  interface Source<X extends Exception> {
    long integer(String column) throws X;

    String text(String column) throws X;
  }

  /**
   * The trial that was stored.
   *
   * @throws IllegalArgumentException when a word is not one of its list
   */
  static <X extends Exception> TrialResult read(Source<X> row) throws X {
    return new TrialResult(
        (int) row.integer("trial"),
        row.text("condition"),
        row.integer("seed"),
        word(Expectation.class, "expectation", row),
        word(Verdict.class, "verdict", row),
        row.text("code"),
        row.text("message"),
        row.integer("stopped") != 0,
        (int) row.integer("remaining_um"),
        (int) row.integer("stop_error_um"),
        (int) row.integer("deepest_um"),
        (int) row.integer("reading_um"),
        (int) row.integer(BOUND),
        word(State.class, "state", row),
        word(Reason.class, "reason", row),
        word(Trust.class, "trust", row),
        word(Cause.class, "cause", row),
        row.integer("stop_time_ns"),
        row.integer("duration_ns"),
        row.integer("steps"),
        row.integer("worst_lateness_ns"),
        row.integer("state_hash"),
        new ErrorChain(
            (int) row.integer("sense_um"),
            (int) row.integer("filter_um"),
            (int) row.integer("decide_um"),
            (int) row.integer("link_um"),
            (int) row.integer("actuate_um"),
            (int) row.integer("coast_um")),
        new DepthReached(
            (int) row.integer("depth_um"),
            (int) row.integer("overrun_um"),
            (int) row.integer("torque_unm"),
            (int) row.integer("torque_reactions")),
        new DeviceTrial(
            row.text("tooth"),
            row.text("unit"),
            row.text("operator"),
            (int) row.integer("feed_um_per_s"),
            (int) row.integer("turned_until_um"),
            (int) row.integer("constriction_um"),
            (int) row.integer("constriction_u95_um"),
            new DeviceActs(
                (int) row.integer("start_um"),
                (int) row.integer("act_um"),
                (int) row.integer("act_u95_um"),
                (int) row.integer("still_us"),
                (int) row.integer("still_u95_us"),
                (int) row.integer("still_mdeg"),
                (int) row.integer("act_feed_um_per_s"),
                (int) row.integer("reversed"),
                (int) row.integer("restart_um"))));
  }

  private static <E extends Enum<E>, X extends Exception> E word(
      Class<E> list, String column, Source<X> row) throws X {
    return Listed.of(list, "trial " + (row.integer("trial") + 1) + ", " + column, row.text(column));
  }

  private static TrialColumn integer(
      String name, String unit, String meaning, Function<TrialResult, Object> value) {
    return new TrialColumn(name, Kind.INTEGER, unit, meaning, value);
  }

  /** A share of the error chain. */
  private static TrialColumn share(String name, String meaning, ToIntFunction<TrialResult> value) {
    return integer(
        name, "µm", "share of the stop error: " + meaning, r -> (long) value.applyAsInt(r));
  }

  private static TrialColumn flag(
      String name, String meaning, Function<TrialResult, Boolean> value) {
    return new TrialColumn(name, Kind.FLAG, "", meaning, r -> value.apply(r) ? 1L : 0L);
  }

  private static TrialColumn text(
      String name, String meaning, Function<TrialResult, Object> value) {
    return new TrialColumn(name, Kind.TEXT, "", meaning, value);
  }
}
