package org.stopwell.core;

import java.lang.reflect.Array;
import java.lang.reflect.Field;
import java.lang.reflect.Modifier;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;

/**
 * Puts numbers that no bench should send into any field of a frame: every public field is found by
 * reflection, so a new one cannot be forgotten.
 */
final class AnyFrame {
  private static final int[] INTS = {
    Integer.MIN_VALUE,
    Integer.MIN_VALUE + 1,
    -100_000_000,
    -100_000,
    -1,
    0,
    1,
    2,
    3,
    4,
    5,
    6,
    127,
    128,
    255,
    256,
    700,
    6_000,
    7_000,
    100_000,
    100_001,
    10_000_000,
    100_000_000,
    Integer.MAX_VALUE - 1,
    Integer.MAX_VALUE
  };

  private static final long[] LONGS = {
    Long.MIN_VALUE,
    Long.MIN_VALUE + 1,
    -Long.MAX_VALUE / 2,
    Integer.MIN_VALUE,
    -1,
    0,
    1,
    Integer.MAX_VALUE,
    Long.MAX_VALUE / 2,
    Long.MAX_VALUE - 1,
    Long.MAX_VALUE
  };

  private static final List<Field> FIELDS =
      Arrays.stream(ControllerInput.class.getFields())
          .filter(f -> !Modifier.isStatic(f.getModifiers()))
          .toList();

  /** A field, the place in it when it is an array, and what it is set to. */
  private record Change(Field field, int index, @Nullable Object value) {
    void apply(ControllerInput in) {
      try {
        if (field.getType().isArray()) {
          Array.set(field.get(in), index, value);
        } else {
          field.set(in, value);
        }
      } catch (IllegalAccessException e) {
        throw new AssertionError(e);
      }
    }

    @Override
    public String toString() {
      return field.getName() + "[" + index + "] = " + value;
    }
  }

  private final Random random;
  private final List<Change> changes = new ArrayList<>();
  private int stepsLeft;

  AnyFrame(Random random) {
    this.random = random;
  }

  /** Sound for a while, then up to four fields are wrong for a while. */
  void disturb(ControllerInput in) {
    if (--stepsLeft < 0) {
      changes.clear();
      stepsLeft = random.nextInt(random.nextBoolean() ? 4 : 300);
      for (int wrong = random.nextInt(5); wrong > 0; wrong--) {
        changes.add(change());
      }
    }
    changes.forEach(c -> c.apply(in));
  }

  private Change change() {
    Field field = FIELDS.get(random.nextInt(FIELDS.size()));
    return new Change(field, random.nextInt(ControllerInput.MAX_FREQUENCIES), value(field));
  }

  private @Nullable Object value(Field field) {
    Class<?> type = field.getType().isArray() ? field.getType().componentType() : field.getType();
    if (type == boolean.class) {
      return random.nextBoolean();
    } else if (type == int.class) {
      return random.nextInt(8) == 0 ? random.nextInt() : INTS[random.nextInt(INTS.length)];
    } else if (type == long.class) {
      return number();
    } else if (type.isEnum()) {
      Object[] constants = type.getEnumConstants();
      int i = random.nextInt(constants.length + 1);
      return i < constants.length ? constants[i] : null;
    }
    throw new AssertionError("a field of type " + type + ": " + field.getName());
  }

  /** A number of 64 bits, most often an extreme one. */
  long number() {
    return random.nextInt(8) == 0 ? random.nextLong() : LONGS[random.nextInt(LONGS.length)];
  }

  @Override
  public String toString() {
    return changes.toString();
  }
}
