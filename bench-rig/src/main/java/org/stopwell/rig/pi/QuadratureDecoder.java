package org.stopwell.rig.pi;

/** Counts the steps of a two-channel encoder. When both channels change at once a step was lost. */
final class QuadratureDecoder {
  /** Place of each pair of levels (A, B) on the circle 00, 10, 11, 01 of a turn forward. */
  private static final int[] PLACE = {0, 3, 1, 2};

  private boolean a;
  private boolean b;
  private long steps;
  private long stepNs;
  private long lost;

  /**
   * Where an encoder stood at its newest step.
   *
   * @param steps steps forward less steps backward
   * @param atNs when it took the newest one, ns
   */
  record Step(long steps, long atNs) {}

  QuadratureDecoder(boolean a, boolean b) {
    this.a = a;
    this.b = b;
  }

  synchronized void a(boolean high, long nowNs) {
    levels(high, b, nowNs);
  }

  synchronized void b(boolean high, long nowNs) {
    levels(a, high, nowNs);
  }

  synchronized void levels(boolean newA, boolean newB, long nowNs) {
    int moved = (place(newA, newB) - place(a, b)) & 3;
    a = newA;
    b = newB;
    if (moved == 2) {
      lost++;
    } else if (moved != 0) {
      steps += moved == 3 ? -1 : 1;
      stepNs = nowNs;
    }
  }

  private static int place(boolean a, boolean b) {
    return PLACE[(a ? 2 : 0) + (b ? 1 : 0)];
  }

  synchronized Step newest() {
    return new Step(steps, stepNs);
  }

  /** Times at which both channels had changed. */
  synchronized long lost() {
    return lost;
  }
}
