package org.stopwell.harness.fault;

import static org.stopwell.harness.trial.Verdict.FAIL;
import static org.stopwell.harness.trial.Verdict.RIG_FAULT;
import static org.stopwell.harness.trial.Verdict.SAFETY_STOP;

import java.util.EnumMap;
import java.util.Map;
import java.util.Set;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.fault.FaultKind;

/**
 * What must come of a fault that strikes while the motor turns, in a trial that expects a stop.
 *
 * @param verdict the verdict
 * @param causes codes, reasons or causes of lost trust that name the fault; one of them must be
 *     given
 * @param withinMs the motor must be told to rest within this time, ms: the budget of the guard plus
 *     the age of a sample and one step
 */
record Expected(Verdict verdict, Set<String> causes, int withinMs) {

  static final Map<FaultKind, Expected> TABLE = table();

  private static Map<FaultKind, Expected> table() {
    Map<FaultKind, Expected> t = new EnumMap<>(FaultKind.class);
    t.put(FaultKind.PORT_GONE, new Expected(RIG_FAULT, Set.of("PORT_GONE"), 1));
    t.put(FaultKind.NO_ANSWER, new Expected(RIG_FAULT, Set.of("NO_ANSWER"), 1));
    t.put(FaultKind.SESSION_LOST, new Expected(RIG_FAULT, Set.of("SESSION_LOST"), 1));
    t.put(FaultKind.BAD_FRAMES, new Expected(RIG_FAULT, Set.of("BAD_FRAMES"), 1));
    t.put(FaultKind.OLD_READINGS, new Expected(RIG_FAULT, Set.of("LINK_LOST"), 60));
    t.put(FaultKind.SAMPLES_STOP, new Expected(FAIL, Set.of("SIGNAL_STALE"), 70));
    t.put(FaultKind.OPEN_CIRCUIT, new Expected(FAIL, Set.of("OPEN", "CANAL_LEFT"), 40));
    t.put(FaultKind.SATURATED, new Expected(FAIL, Set.of("RAILED"), 40));
    t.put(FaultKind.FROZEN_SIGNAL, new Expected(FAIL, Set.of("FROZEN"), 300));
    // A signal that jumps nearer stops the file as if it were there, by the policy or the monitor.
    // One that jumps at one
    // frequency
    // only contradicts the other one, which is also what a tip out of the fluid looks like.
    Set<String> jumps =
        Set.of("JUMPY", "UNWETTED", "STANDOFF_REACHED", "PAST_FORAMEN", "MONITOR_STOP");
    t.put(FaultKind.JUMP, new Expected(FAIL, jumps, 60));
    t.put(FaultKind.NOISE, new Expected(FAIL, jumps, 500));
    t.put(FaultKind.NONSENSE, new Expected(RIG_FAULT, Set.of("BAD_INPUT"), 3));
    t.put(FaultKind.RUNS_ON, new Expected(RIG_FAULT, Set.of("RUNAWAY"), 30_000));
    t.put(FaultKind.REVERSED, new Expected(RIG_FAULT, Set.of("WRONG_DIRECTION"), 250));
    t.put(FaultKind.DEAD_MOTOR, new Expected(FAIL, Set.of("STALLED"), 500));
    t.put(FaultKind.SPEED_LOST, new Expected(FAIL, Set.of("STALLED"), 310));
    t.put(FaultKind.LOW_SUPPLY, new Expected(RIG_FAULT, Set.of("SUPPLY_LOW"), 30));
    t.put(FaultKind.STOP_PRESSED, new Expected(SAFETY_STOP, Set.of("STOP_LINE"), 3));
    return t;
  }
}
