package org.stopwell.rig.fault;

import java.util.Arrays;
import java.util.List;
import org.stopwell.rig.random.RandomStream;

/**
 * Faults of a trial, identical for every mount of a bench.
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
   * One fault drawn at random, of those that one trial can show and that the controller can notice.
   *
   * @param seed decides everything
   * @param fromNs earliest start, ns
   * @param toNs latest start, ns
   * @return a plan with one fault that lasts to the end of the trial
   */
  public static FaultPlan random(long seed, long fromNs, long toNs) {
    RandomStream random = RandomStream.of(seed, "fault plan");
    List<FaultKind> kinds =
        Arrays.stream(FaultKind.values())
            .filter(FaultKind::showsInOneTrial)
            .filter(k -> k.part() != FaultKind.Part.TRUTH && k.ofController())
            .toList();
    FaultKind kind = kinds.get((int) (random.nextDouble() * kinds.size()));
    long start = fromNs + (long) (random.nextDouble() * (toNs - fromNs));
    double strength =
        switch (kind) {
          case JUMP ->
              random.nextDouble() < 0.5
                  ? random.nextBetween(0.5, 0.9)
                  : random.nextBetween(1.1, 2.0);
          case NOISE -> random.nextBetween(0.3, 0.6);
          case HUM -> random.nextBetween(0.2, 0.5);
          case BOUNCE -> random.nextBetween(0.2, 0.8);
          case LOST_READINGS -> random.nextBetween(0.05, 0.4);
          case OVERSPEED -> random.nextBetween(2, 3.5);
          case SPEED_NOISE -> random.nextBetween(0.2, 0.5);
          case SHORT_CIRCUIT -> random.nextBetween(0, 100);
          case HOST_STALL -> random.nextBetween(50, 500);
          case LOW_SUPPLY -> random.nextBetween(0.5, 2.5);
          default -> kind.strength().usual();
        };
    return new FaultPlan(seed, List.of(new Injection(kind, start, Long.MAX_VALUE, strength)));
  }
}
