package org.stopwell.rig.calibration;

import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.proof.HomedStage;
import org.stopwell.rig.proof.RestingScene;

/**
 * Readings of the stage against a reference. A stage that the bench drives goes to its places by
 * itself, and only the indicator is asked for; any other is moved by hand.
 */
final class StageReadings {
  /**
   * Way between the two places of the scale, within the range of usual indicators, µm (assumed).
   */
  private static final int WAY_MICRONS = 5_000;

  /** A stage with less room than this cannot be read at two places, µm (assumed). */
  private static final int LEAST_WAY_MICRONS = 1_000;

  /** Kept from either limit of the stage, µm; longer than it takes up its play (assumed). */
  private static final int MARGIN_MICRONS = 500;

  /** Travel past a place before it is approached from inside, µm (assumed: more than any play). */
  private static final int PAST_MICRONS = 1_000;

  /** Slow enough to watch, µm/s (assumed). */
  private static final int CALM_MICRONS_PER_SECOND = 4_000;

  private static final double LARGEST = 1e6;

  private final Bench bench;
  private final Attendant attendant;
  private LinearStage.@Nullable Status room;
  private boolean ready;

  StageReadings(Bench bench, Attendant attendant) {
    this.bench = bench;
    this.attendant = attendant;
  }

  /** Travel by the bench's own encoder minus that of the reference, µm. */
  double scale() throws BenchException {
    Optional<LinearStage> driven = driven();
    if (driven.isEmpty()) {
      double lengthMm =
          number("Set the stage to its stop with a gauge block between. Length of the block", "mm");
      int outside = place();
      done("Take the block out and set the stage to its stop again.");
      return outside - place() - lengthMm * 1e3;
    }
    int half = way() / 2;
    double first = goTo(driven.get(), middle() - half);
    double shown = indicator();
    double second = goTo(driven.get(), middle() + half);
    return Math.abs(second - first) - Math.abs(indicator() - shown);
  }

  /** What the indicator shows at one place come from outside, minus that from inside, µm. */
  double backlash() throws BenchException {
    Optional<LinearStage> driven = driven();
    if (driven.isEmpty()) {
      double outside = number("Go to 2 mm by the stage from outside. Indicator", "µm");
      return outside - number("Go past it, and back to 2 mm from inside. Indicator", "µm");
    }
    int past = Math.min(PAST_MICRONS, way() / 2);
    goTo(driven.get(), middle() - past);
    goTo(driven.get(), middle());
    double outside = indicator();
    goTo(driven.get(), middle() + past);
    goTo(driven.get(), middle());
    return outside - indicator();
  }

  /** What the bench shows after a new run to the home switch, minus the indicator, µm. */
  double zero() throws BenchException {
    Optional<LinearStage> driven = driven();
    if (driven.isEmpty()) {
      double indicator =
          number("Move the stage to its home switch and back to the mark. Indicator", "µm");
      return place() - indicator;
    }
    driven.get().home();
    double place = goTo(driven.get(), room().leastMicrons() + 2 * MARGIN_MICRONS);
    return place - indicator();
  }

  /** Finds the home of a stage that the bench drives, once; asks before it moves. */
  void ready() throws BenchException {
    if (!ready) {
      if (!HomedStage.of(bench, attendant)) {
        throw new NobodyException();
      }
      ready = true;
    }
  }

  /** The board was without power: nothing is known of places any more. */
  void lost() {
    ready = false;
    room = null;
  }

  /** The stage that the bench drives, at home once, with room enough. */
  private Optional<LinearStage> driven() throws BenchException {
    Optional<LinearStage> driven = bench.drivenStage();
    ready();
    if (driven.isEmpty() || room != null) {
      return driven;
    }
    room = driven.get().status();
    if (way() < LEAST_WAY_MICRONS) {
      throw new BenchException(
          RigFault.REFUSED,
          String.format(
              Locale.ROOT,
              "stage: range %d to %d µm; a calibration needs at least %d µm of travel",
              room().leastMicrons(),
              room().mostMicrons(),
              LEAST_WAY_MICRONS + 2 * MARGIN_MICRONS));
    }
    attendant.tell(
        String.format(
            Locale.ROOT,
            "Set the indicator to count up away from the foramen, with %.1f mm of range.",
            way() / 1e3));
    return driven;
  }

  private LinearStage.Status room() {
    LinearStage.Status known = room;
    if (known == null) {
      throw new IllegalStateException("the stage was not asked");
    }
    return known;
  }

  private int middle() {
    return (room().leastMicrons() + room().mostMicrons()) / 2;
  }

  private int way() {
    return Math.min(WAY_MICRONS, room().mostMicrons() - room().leastMicrons() - 2 * MARGIN_MICRONS);
  }

  /** Sends the stage to a place from home; place of the tip by the bench, µm. */
  private int goTo(LinearStage moved, int fromHomeMicrons) throws BenchException {
    long fastest = room().fastestMicronsPerSecond();
    moved.moveTo(fromHomeMicrons, (int) Math.min(fastest, CALM_MICRONS_PER_SECOND));
    return place();
  }

  private int place() throws BenchException {
    Lack.refuse(bench, Ability.TRUTH);
    bench.mount(RestingScene.left());
    return bench.truth().remainingMicrons;
  }

  private double indicator() {
    return number("The stage is at rest. Indicator", "µm");
  }

  private double number(String question, String unit) {
    return attendant
            .thousandths(question, unit, -LARGEST, LARGEST)
            .orElseThrow(NobodyException::new)
        / 1e3;
  }

  private void done(String request) {
    if (!attendant.asked(request)) {
      throw new NobodyException();
    }
  }
}
