package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class NetworkTest {
  private static final List<Outcome> ALL =
      IntStream.range(0, 9)
          .mapToObj(i -> new Outcome(true, false, i, false, false, false, 0, 0, 1))
          .toList();

  private static List<Integer> members(Network network) {
    return network.of(ALL).stream().map(Outcome::errorMicrons).toList();
  }

  @Test
  void everyOtherMemberIsByTheNetworkOfTheTrainingAndTheRestByTurns() {
    assertEquals(List.of(0, 2, 4, 6, 8), members(Network.TRAINING));
    assertEquals(List.of(1, 5), members(Network.OTHER));
    assertEquals(List.of(3, 7), members(Network.THIRD));
  }
}
