package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class ToothModelTest {
  private static final List<VisitOutcome> ALL =
      IntStream.range(0, 9)
          .mapToObj(i -> new VisitOutcome(true, false, i, false, false, false, 0, 0, 1))
          .toList();

  private static List<Integer> members(ToothModel model) {
    return model.of(ALL).stream().map(VisitOutcome::errorMicrons).toList();
  }

  @Test
  void everyOtherMemberUsesTheTrainingModelAndTheRestTheTwoOthersInTurn() {
    assertEquals(List.of(0, 2, 4, 6, 8), members(ToothModel.TRAINING));
    assertEquals(List.of(1, 5), members(ToothModel.OTHER));
    assertEquals(List.of(3, 7), members(ToothModel.THIRD));
  }
}
