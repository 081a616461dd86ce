package org.stopwell.harness.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.stopwell.harness.stats.Conformal;
import org.stopwell.rig.random.RandomStream;

/**
 * What a stated bound promises, which depends on the number of teeth, and the factor that keeps it.
 * The score of a decision is the error over the stated standard error, always from a network that
 * was not taught with the tooth.
 */
enum Promise {
  /** Too few teeth. */
  NONE("none is stated; one needs 19 teeth"),
  /** Over the draw of the taught teeth and the new one. */
  ON_AVERAGE(
      "the error of the reading that decides a stop, in a new tooth in the named fluids, is within"
          + " the bound 95 times in 100, on average over the draw of the taught teeth"),
  /** Over the new tooth alone, with a confidence over the draw of the taught teeth. */
  WITH_CONFIDENCE(
      "the error of the reading that decides a stop, in a new tooth in the named fluids, is within"
          + " the bound at least 95 times in 100, with 90 % confidence over the draw of the taught"
          + " teeth");

  /** The stated share. */
  static final double SHARE = 0.95;

  private static final double CONFIDENCE = 0.9;

  /** Teeth from which a bound can be stated: 19/20 is 0.95. */
  private static final int BOUNDED = 19;

  /** Teeth from which it holds with confidence: 1 - 0.95^45 is above 0.9. */
  private static final int CONFIDENT = 45;

  final String words;

  Promise(String words) {
    this.words = words;
  }

  /** What a number of teeth with a decision can promise. */
  static Promise of(int teeth, boolean confident) {
    return confident && teeth >= CONFIDENT ? WITH_CONFIDENCE : teeth >= BOUNDED ? ON_AVERAGE : NONE;
  }

  /** The decisions that stopped, by tooth; teeth without any are left out. */
  static List<List<DecidingReading>> byTooth(List<DecidingReading> decisions) {
    List<List<DecidingReading>> teeth = new ArrayList<>();
    String last = "";
    for (DecidingReading decision : decisions) {
      if (!decision.stopped()) {
        continue;
      }
      if (!decision.approach().tooth.equals(last)) {
        teeth.add(new ArrayList<>());
        last = decision.approach().tooth;
      }
      teeth.get(teeth.size() - 1).add(decision);
    }
    return teeth;
  }

  /**
   * The factor on the standard error; empty where nothing is promised. With confidence, one
   * decision of each tooth is drawn, because several of one tooth are not independent.
   */
  static OptionalDouble factor(List<List<DecidingReading>> teeth, boolean confident, long seed) {
    return switch (of(teeth.size(), confident)) {
      case NONE -> OptionalDouble.empty();
      case ON_AVERAGE ->
          Conformal.ofNewGroup(
              teeth.stream()
                  .map(t -> t.stream().mapToDouble(DecidingReading::score).toArray())
                  .toList(),
              SHARE);
      case WITH_CONFIDENCE -> {
        RandomStream random = RandomStream.of(seed, "one approach per tooth");
        yield Conformal.ofShare(
            teeth.stream()
                .mapToDouble(t -> t.get((int) (t.size() * random.nextDouble())).score())
                .toArray(),
            SHARE,
            CONFIDENCE);
      }
    };
  }
}
