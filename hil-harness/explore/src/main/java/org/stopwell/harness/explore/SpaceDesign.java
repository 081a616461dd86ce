package org.stopwell.harness.explore;

import java.util.List;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.Space;

/**
 * Where the trials of a space are. Trial {@code member} of unit {@code unit} is a function of both
 * numbers and the seed alone.
 */
interface SpaceDesign {
  /** Units, at least 1. */
  long units();

  /** Trials in each unit, at least 1. */
  int unitTrials();

  /**
   * The values of a trial.
   *
   * @param values receives a value of each factor, base units
   */
  void point(long unit, int member, long[] values);

  /**
   * The number of the draw of everything that is not a factor: canal, noise, tremor. Trials with
   * the same number share it.
   */
  long rest(long unit, int member);

  /** The point of the settings that a trial stands at, below {@link #places}. */
  default int place(long unit) {
    return 0;
  }

  /** How many points of the settings are compared; 0 where none are. */
  default int places() {
    return 0;
  }

  /** The values of a point of the settings; the other factors have any value. */
  default void placed(int place, long[] values) {
    throw new IllegalStateException("no point " + place);
  }

  /**
   * The design that a space asks for.
   *
   * @throws SpaceException when there are too few trials for it
   */
  static SpaceDesign of(Space space) throws SpaceException {
    List<Factor> factors = space.factors();
    Space.Head head = space.head();
    return switch (head.design()) {
      case SOBOL -> new SobolDesign(factors, head.seed(), head.trials());
      case MORRIS -> new MorrisDesign(factors, head.seed(), head.trials());
      default -> new PlacedDesign(space);
    };
  }
}
