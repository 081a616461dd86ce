package org.stopwell.harness.protocol;

import java.util.Arrays;
import java.util.List;
import org.stopwell.rig.random.RandomStream;

/** In which order the conditions of a plan are run. */
public enum Order {
  /** Permuted blocks: every condition once in each block, in an order drawn for that block. */
  BLOCKS("blocks") {
    @Override
    public int[] of(int block, int conditions, long seed) {
      return shuffled(conditions, RandomStream.of(seed, "order of block " + block));
    }

    @Override
    public int period(int conditions) {
      return 1;
    }
  },
  /**
   * Latin squares balanced for what goes before (Williams, Australian Journal of Scientific
   * Research A 2, 1949, 149): in each square every condition comes once in every place, and follows
   * every other condition equally often within a block. An odd number of conditions takes two
   * squares. Which condition takes which letter, and the order of the blocks, are drawn.
   */
  LATIN_SQUARE("latin-square") {
    @Override
    public int[] of(int block, int conditions, long seed) {
      int period = period(conditions);
      int square = block / period;
      RandomStream stream = RandomStream.of(seed, "latin square " + square);
      int[] letters = shuffled(conditions, stream);
      int row = shuffled(period, stream)[block % period];
      int[] order = new int[conditions];
      for (int place = 0; place < conditions; place++) {
        // 0, 1, k−1, 2, k−2, … and for the second square the same backwards.
        int at = row < conditions ? place : conditions - 1 - place;
        int zigzag = at % 2 == 1 ? (at + 1) / 2 : (conditions - at / 2) % conditions;
        order[place] = letters[(zigzag + row) % conditions];
      }
      return order;
    }

    @Override
    public int period(int conditions) {
      return conditions % 2 == 0 || conditions == 1 ? conditions : 2 * conditions;
    }
  };

  private final String key;

  Order(String key) {
    this.key = key;
  }

  /**
   * The order of the conditions in one block.
   *
   * @param block from 0
   * @param conditions how many conditions, at least 1
   * @param seed campaign seed
   * @return every condition's number once
   */
  public abstract int[] of(int block, int conditions, long seed);

  /**
   * After how many blocks the order is balanced.
   *
   * @param conditions how many conditions
   * @return 1 for blocks, the blocks of a set of squares else
   */
  public abstract int period(int conditions);

  /**
   * The word for it in plans and run files.
   *
   * @return lower case
   */
  public String key() {
    return key;
  }

  /**
   * The order with a word.
   *
   * @param key a word of a plan or a run file
   * @return the order
   * @throws IllegalArgumentException for any other word
   */
  public static Order ofKey(String key) {
    return Arrays.stream(values())
        .filter(o -> o.key.equals(key))
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("no order " + key));
  }

  /**
   * The words for all of them.
   *
   * @return in order
   */
  public static List<String> keys() {
    return Arrays.stream(values()).map(Order::key).toList();
  }

  /** A random order (Fisher and Yates 1938). */
  private static int[] shuffled(int count, RandomStream stream) {
    int[] order = new int[count];
    for (int i = 0; i < count; i++) {
      int j = (int) StrictMath.floor(stream.nextDouble() * (i + 1));
      order[i] = order[j];
      order[j] = i;
    }
    return order;
  }
}
