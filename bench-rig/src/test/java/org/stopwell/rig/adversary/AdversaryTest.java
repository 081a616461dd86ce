package org.stopwell.rig.adversary;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.stopwell.core.frame.Stage;

class AdversaryTest {
  static final int STARTS = Integer.getInteger("adversary.starts", 20);
  private static final int CLIMBS = 8;
  static final long SEED = Long.getLong("adversary.seed", 1);

  /** Fastest feed of a hand, below the limit at which a standoff protects, µm/s. */
  static final int FASTEST = 2_000;

  static Stream<Setup> every() {
    return Stream.of(Policy.values())
        .flatMap(policy -> Stream.of(Stage.values()).map(stage -> Setup.of(policy, stage)));
  }

  @ParameterizedTest
  @MethodSource("every")
  void nothingInsideTheSignalBudgetBreaksAnInvariant(Setup setup) {
    Optional<Found> found =
        new Search(setup, Checks::of).run(SEED, List.of(Kind.values()), FASTEST, STARTS, CLIMBS);
    assertEquals(Optional.empty(), found);
  }
}
