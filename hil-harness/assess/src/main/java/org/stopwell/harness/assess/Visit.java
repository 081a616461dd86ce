package org.stopwell.harness.assess;

import java.util.Optional;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.sense.LearnedCanal;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.HandMotion;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.Surroundings;
import org.stopwell.rig.virtual.Plant;

/**
 * One controller that works on several virtual canals in turn. Its clock and what it has learned
 * continue from one canal to the next.
 */
final class Visit {
  private static final int STANDOFF_MICRONS = 500;

  /** A reading that is sure and off by more than this is sure and wrong, µm. */
  private static final int SURE_LIMIT_MICRONS = 500;

  /** Readings are judged where the file or the reading is nearer to the foramen than this, µm. */
  private static final int NEAR_MICRONS = 1_500;

  /** Time from the stop until the file is at rest, with a margin; assumed, ns. */
  private static final long REST_NS = 800_000_000;

  /** A visit ends after this time without motion of motor or hand; assumed, ns. */
  private static final long REFUSED_NS = 1_500_000_000;

  /** A hand that moves less than this in that time is at rest, drift and tremor; assumed, µm. */
  private static final int MOVES_MICRONS = 400;

  /** A visit ends after this time, ns. The slowest hand needs some 140 s for the longest canal. */
  private static final long TIME_LIMIT_NS = 180_000_000_000L;

  private final StopController controller;
  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private final Truth truth = new Truth();
  private long baseNs;
  private long baseSequence;

  Visit(ControllerSettings settings) {
    controller = new StopController(settings);
  }

  /** The canal that the controller has learned. */
  Optional<LearnedCanal> learned() {
    return controller.learned();
  }

  /** Gives the controller a canal that was learned earlier. */
  boolean recall(LearnedCanal canal) {
    return controller.recall(canal);
  }

  /** Works on a canal from the first insertion to rest. */
  VisitOutcome work(Scene scene, Stage stage) {
    Plant plant = new Plant(scene);
    long now = 0;
    long idleNs = 0;
    int restingMicrons = 0;
    long decidedNs = -1;
    boolean past = false;
    boolean sureAndWrong = false;
    boolean sure = false;
    int bound = 0;
    int readingError = 0;
    boolean turned = false;
    out.clear();
    while (now < TIME_LIMIT_NS) {
      now += Plant.TICK_NS;
      plant.advance(now, out);
      plant.read(in);
      in.sampleTimeNs += baseNs;
      in.sampleSequence += baseSequence;
      in.stage = stage;
      controller.step(baseNs + now, in, out);
      plant.truth(truth);
      past |= truth.remainingMicrons < 0;
      boolean turns = out.drive.turns();
      turned |= turns;
      sureAndWrong |=
          turns
              && out.readingPresent
              && out.trust == Trust.SURE
              && Math.min(out.remainingMicrons, truth.remainingMicrons) < NEAR_MICRONS
              && Math.abs(out.remainingMicrons - truth.remainingMicrons) > SURE_LIMIT_MICRONS;
      if (decidedNs < 0 && turned && decided()) {
        decidedNs = now;
        sure = out.trust == Trust.SURE;
        bound = out.boundMicrons;
        readingError = out.remainingMicrons - truth.remainingMicrons;
      }
      if (decidedNs >= 0 && now - decidedNs >= REST_NS) {
        break;
      }
      boolean moves = Math.abs(truth.remainingMicrons - restingMicrons) >= MOVES_MICRONS;
      if (moves) {
        restingMicrons = truth.remainingMicrons;
      }
      idleNs = turns || moves || !turned ? 0 : idleNs + Plant.TICK_NS;
      if (idleNs >= REFUSED_NS) {
        break;
      }
    }
    baseNs += now + Plant.TICK_NS;
    baseSequence = in.sampleSequence;
    boolean stopped = decidedNs >= 0;
    return new VisitOutcome(
        stopped,
        turned,
        HandSection.motion(scene.section("hand")) == HandMotion.PECKING,
        stopped ? truth.remainingMicrons - STANDOFF_MICRONS : 0,
        readingError,
        bound,
        sure,
        past,
        sureAndWrong,
        leak(scene),
        stopped ? decidedNs : now);
  }

  /** Conductance around the canal now, µS. */
  private double leak(Scene scene) {
    ParameterValues fluid = scene.section("fluid");
    double above = truth.fluidLevelMicrons - Canal.lengthMicrons(scene.section("canal"));
    double full = Math.max(1, fluid.get(FluidSection.CHAMBER_DEPTH));
    double wall = Math.max(0, Math.min(1, above / full)) / fluid.get(FluidSection.LEAK);
    boolean runsOver = Surroundings.full(above * 1e-6, full * 1e-6);
    return 1e6 * (runsOver ? wall + 1.0 / fluid.get(FluidSection.OVERFLOW) : wall);
  }

  private boolean decided() {
    return (out.state == State.HOLDING || out.state == State.BACKING)
        && (out.reason == Reason.STANDOFF_REACHED || out.reason == Reason.PAST_FORAMEN);
  }
}
