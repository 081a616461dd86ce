package org.stopwell.rig.fault;

import java.util.List;
import org.stopwell.rig.random.RandomStream;

/**
 * What goes wrong in a trial. The same for every mount of a bench.
 *
 * @param seed seed of what is random in the faults themselves
 * @param injections the faults
 */
public record FaultPlan(long seed, List<Injection> injections) {
  /** Copies the list. */
  public FaultPlan {
    injections = List.copyOf(injections);
  }

  /**
   * One fault drawn at random.
   *
   * @param seed decides everything
   * @param fromNs earliest start, ns
   * @param toNs latest start, ns
   * @return a plan with one fault that lasts to the end of the trial
   */
  public static FaultPlan random(long seed, long fromNs, long toNs) {
    RandomStream random = RandomStream.of(seed, "fault plan");
    FaultKind[] kinds = FaultKind.values();
    FaultKind kind = kinds[(int) (random.nextDouble() * kinds.length)];
    long start = fromNs + (long) (random.nextDouble() * (toNs - fromNs));
    double strength =
        switch (kind) {
          case JUMP -> random.nextBetween(0.5, 0.9);
          case NOISE -> random.nextBetween(0.3, 0.6);
          case LOW_SUPPLY -> random.nextBetween(0.5, 2.5);
          default -> 0;
        };
    return new FaultPlan(seed, List.of(new Injection(kind, start, Long.MAX_VALUE, strength)));
  }
}
