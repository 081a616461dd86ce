package org.stopwell.rig.adversary;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.util.Random;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;

/** Puts anything into any field of a frame, enums and counts included, and bends the time. */
final class ArbitraryFrames implements Run.Spoiler {
  private static final int[] INTS = {
    Integer.MIN_VALUE, Integer.MAX_VALUE, -1, 0, 1, 5, 100, 20_000, 6_000_000
  };
  private static final long MS = 1_000_000;
  private static final int FIELDS = 19;

  /** One step in so many starts a burst of bad frames, and one in so many bends the time. */
  private static final int RARITY = 300;

  /** Longest burst, steps. */
  private static final int LONGEST = 10;

  private static final int TIME_RARITY = 2_000;

  private final Random random;
  private final ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
  private long beforeBytes;
  private long bytes;
  private int burst;
  private long laterNs;

  ArbitraryFrames(long seed) {
    random = new Random(seed);
  }

  @Override
  public long spoil(ControllerInput in, long nowNs) {
    if (burst == 0 && random.nextInt(RARITY) == 0) {
      burst = 1 + random.nextInt(LONGEST);
    }
    if (burst > 0) {
      burst--;
      for (int i = 1 + random.nextInt(3); i > 0; i--) {
        spoil(in);
      }
    }
    if (random.nextInt(TIME_RARITY) == 0) {
      laterNs += random.nextInt(4) == 0 ? aLong() : random.nextInt(100) * MS;
    }
    beforeBytes = threads.getCurrentThreadAllocatedBytes();
    return nowNs + laterNs;
  }

  @Override
  public void stepped() {
    bytes += threads.getCurrentThreadAllocatedBytes() - beforeBytes;
  }

  /** What all steps have allocated. */
  long bytes() {
    return bytes;
  }

  private void spoil(ControllerInput in) {
    int i = random.nextInt(ControllerInput.MAX_FREQUENCIES);
    switch (random.nextInt(FIELDS)) {
      case 0 -> in.positionKind = kind();
      case 1 -> in.sampleSequence = aLong();
      case 2 -> in.sampleTimeNs = random.nextBoolean() ? aLong() : in.sampleTimeNs + laterNs;
      case 3 -> in.frequencyCount = random.nextInt(8) - 1;
      case 4 -> in.frequencyCount = anInt();
      case 5 -> in.frequencyHz[i] = anInt();
      case 6 -> in.zRealMilliOhms[i] = anInt();
      case 7 -> in.zImagMilliOhms[i] = anInt();
      case 8 -> in.railed = random.nextBoolean();
      case 9 -> in.distanceMicrons = anInt();
      case 10 -> in.insertionPresent = random.nextBoolean();
      case 11 -> in.insertionMicrons = anInt();
      case 12 -> in.speedMilliRpm = anInt();
      case 13 -> in.torqueMicroNewtonMetres = anInt();
      case 14 -> in.currentMilliAmps = anInt();
      case 15 -> in.supplyMilliVolts = anInt();
      case 16 -> in.stage = stage();
      case 17 -> in.linkAgeNs = aLong();
      default -> {
        in.demand = random.nextBoolean();
        in.stopLine = random.nextBoolean();
        in.reset = random.nextBoolean();
      }
    }
  }

  /** Any kind, and none: a frame is overwritten from outside. */
  @SuppressWarnings("NullAway")
  private PositionKind kind() {
    int code = random.nextInt(PositionKind.values().length + 1);
    return code < PositionKind.values().length ? PositionKind.values()[code] : null;
  }

  @SuppressWarnings("NullAway")
  private Stage stage() {
    int code = random.nextInt(Stage.values().length + 1);
    return code < Stage.values().length ? Stage.values()[code] : null;
  }

  private int anInt() {
    return random.nextInt(3) == 0 ? random.nextInt() : INTS[random.nextInt(INTS.length)];
  }

  private long aLong() {
    return random.nextInt(3) == 0 ? random.nextLong() : anInt() * MS;
  }
}
