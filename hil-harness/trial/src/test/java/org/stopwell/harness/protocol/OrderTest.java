package org.stopwell.harness.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.util.Arrays;
import java.util.HashSet;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What a reader of the order may rely on. */
class OrderTest {
  private static final long SEED = 20261125;

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 7, 40})
  void everyBlockHoldsEveryConditionOnce(int conditions) {
    for (Order order : Order.values()) {
      for (int block = 0; block < 3 * conditions; block++) {
        int[] sorted = order.of(block, conditions, SEED);
        Arrays.sort(sorted);
        assertEquals(
            Arrays.toString(IntStream.range(0, conditions).toArray()), Arrays.toString(sorted));
      }
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {2, 3, 4, 5, 6, 9, 12})
  void aSetOfSquaresPutsEveryConditionEquallyOftenInEveryPlaceAndAfterEveryOther(int k) {
    int blocks = Order.LATIN_SQUARE.period(k);
    for (int set = 0; set < 3; set++) {
      int[][] places = new int[k][k];
      int[][] after = new int[k][k];
      for (int b = 0; b < blocks; b++) {
        int[] row = Order.LATIN_SQUARE.of(set * blocks + b, k, SEED + set);
        for (int place = 0; place < k; place++) {
          places[row[place]][place]++;
          if (place > 0) {
            after[row[place - 1]][row[place]]++;
          }
        }
      }
      for (int a = 0; a < k; a++) {
        for (int b = 0; b < k; b++) {
          assertEquals(blocks / k, places[a][b], "condition " + a + " in place " + b);
          assertEquals(a == b ? 0 : blocks / k, after[a][b], b + " after " + a);
        }
      }
    }
  }

  @Test
  void anotherSeedIsAnotherOrder() {
    for (Order order : Order.values()) {
      assertNotEquals(
          Arrays.toString(order.of(0, 12, 1)), Arrays.toString(order.of(0, 12, 2)), order.key());
      assertEquals(
          Arrays.toString(order.of(5, 12, 1)), Arrays.toString(order.of(5, 12, 1)), order.key());
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 4, 20, 100})
  void everyStretchHidesOneSentinelAndTheLastTrialIsOne(int every) {
    SentinelRule rule = new SentinelRule(every, 500, 20);
    for (int trials : new int[] {1, 3, 4, 5, 59, 60, 61}) {
      int all = trials + rule.count(trials);
      Set<Integer> tests = new HashSet<>();
      int sentinels = 0;
      for (int i = 0; i < all; i++) {
        int test = rule.testAt(i, trials, SEED);
        if (test < 0) {
          sentinels++;
        } else {
          assertEquals(tests.size(), test, "trials under test keep their order");
          tests.add(test);
        }
      }
      assertEquals(trials, tests.size());
      assertEquals(rule.count(trials), sentinels);
      assertEquals(-1, rule.testAt(all - 1, trials, SEED));
    }
  }
}
