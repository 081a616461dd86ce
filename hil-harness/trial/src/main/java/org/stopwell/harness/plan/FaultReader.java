package org.stopwell.harness.plan;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.NavigableSet;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;

/** Reads the section {@code faults} of a plan or of a level: deliberate faults. */
final class FaultReader {
  static final String KEY = "faults";
  static final String CAUSE = "cause";
  static final String CAUSE_TEXT =
      "Name that the fault must get: a code of the result, a reason or a cause of lost trust of the"
          + " controller's first reaction, the kind of fault that the trace shows, or the fault of"
          + " a device.";

  private static final FaultKind[] KINDS = FaultKind.values();
  private static final List<Verdict> VERDICTS = List.of(Verdict.values());

  private static final Parameter KIND =
      Parameter.of("kind")
          .choice(Arrays.stream(KINDS).map(FaultKind::key).toList())
          .required()
          .text("Kind of fault; docs/faults.md describes each.")
          .source("the plan's author");

  private static final Parameter SINCE =
      Parameter.of("since")
          .choice("mount", "turn")
          .text("Zero of at_ms: the mount, or the first command to turn.")
          .source("design choice");

  private static final Parameter AT =
      Parameter.of("at_ms")
          .unit("ms", 6)
          .range("0", "3600000")
          .initially("0")
          .text("Start of the fault.")
          .source("assumed");

  private static final Parameter FOR =
      Parameter.of("for_ms")
          .unit("ms", 6)
          .range("0.001", "3600000")
          .initially("3600000")
          .text("Duration of the fault; when absent, to the end of the trial.")
          .source("assumed");

  private static final Parameter STRENGTH =
      Parameter.of("strength")
          .decimals(6)
          .range("-1", "100000")
          .initially("0")
          .text("Strength of the fault, in the unit of its kind; a usual value when absent.")
          .source("assumed, by kind");

  private static final Parameter SEED =
      Parameter.of("seed")
          .range("0", String.valueOf(Long.MAX_VALUE))
          .initially("0")
          .text("Seed of random faults; derived from the trial when absent.")
          .source("any number");

  private static final Parameter EXPECT =
      Parameter.of("expect")
          .choice(VERDICTS.stream().map(v -> v.name().toLowerCase(java.util.Locale.ROOT)).toList())
          .text("Verdict that the trial must have with this fault; not judged when absent.")
          .source("the plan's author");

  private static final Parameter WITHIN =
      Parameter.of("within_ms")
          .unit("ms", 6)
          .range("0.001", "60000")
          .initially("60000")
          .text("Longest time from the fault to a command to rest; not judged when absent.")
          .source("the budgets of the guard");

  /** The keys of a fault beside its cause. */
  static final ParameterTable TABLE =
      new ParameterTable(List.of(KIND, SINCE, AT, FOR, STRENGTH, SEED, EXPECT, WITHIN));

  /** The keys of a fault that begins at a time. */
  private static final List<Parameter> TIMED = List.of(SINCE, AT, FOR, SEED, WITHIN);

  /** Permitted names of a fault. */
  static final NavigableSet<String> CAUSES = causes();

  private FaultReader() {}

  private static NavigableSet<String> causes() {
    NavigableSet<String> causes = new TreeSet<>();
    Arrays.stream(Reason.values()).forEach(r -> causes.add(r.name()));
    Arrays.stream(Cause.values()).forEach(c -> causes.add(c.name()));
    Arrays.stream(RigFault.values()).forEach(f -> causes.add(f.name()));
    Arrays.stream(KINDS).filter(FaultKind::ofController).forEach(k -> causes.add(k.name()));
    Arrays.stream(DeviceFault.values()).forEach(f -> causes.add(f.name()));
    return causes;
  }

  /** The faults under a group of keys; none when the key is absent. */
  static List<PlannedFault> read(Yaml.Mapping at, String path, Mistakes mistakes) {
    Yaml.Entry entry = at.entries().get(KEY);
    List<PlannedFault> faults = new ArrayList<>();
    if (entry == null) {
      return faults;
    }
    String full = Sections.join(path, KEY);
    if (!(entry.value() instanceof Yaml.Items items)) {
      mistakes.add(entry.line(), full, entry.value().notA("a list"));
      return faults;
    }
    for (Yaml item : items.items()) {
      if (item instanceof Yaml.Mapping one) {
        PlannedFault fault = fault(one, full, mistakes);
        if (fault != null) {
          faults.add(fault);
        }
      } else {
        mistakes.add(item.line(), full, item.notA("a group of keys"));
      }
    }
    return faults;
  }

  private static @Nullable PlannedFault fault(Yaml.Mapping at, String path, Mistakes mistakes) {
    int before = mistakes.all().size();
    ParameterValues v = Sections.resolve(at, path, TABLE, Set.of(CAUSE), mistakes);
    String cause = FreeText.optional(at, CAUSE, mistakes);
    if (!cause.isEmpty() && !CAUSES.contains(cause)) {
      mistakes.add(
          at.line(),
          path + "." + CAUSE,
          cause + " is not a code, reason or kind" + Hint.of(cause, CAUSES));
    }
    FaultKind kind = KINDS[(int) v.get(KIND)];
    double strength = kind.strength().usual();
    if (v.isGiven(STRENGTH)) {
      strength = BigDecimal.valueOf(v.get(STRENGTH), 6).doubleValue();
      if (!(strength >= kind.strength().least() && strength <= kind.strength().most())) {
        mistakes.add(
            at.line(),
            path + ".strength",
            kind.strength().meaning().isEmpty()
                ? kind.key() + " has no strength"
                : STRENGTH.human(v.get(STRENGTH))
                    + " is outside "
                    + kind.strength().least()
                    + " to "
                    + kind.strength().most()
                    + " ("
                    + kind.strength().meaning()
                    + ")");
      }
    }
    if (!kind.ofController()) {
      for (Parameter timed : TIMED) {
        if (v.isGiven(timed)) {
          mistakes.add(
              at.line(),
              path + "." + timed.key(),
              kind.key() + " begins at a place of the file, not at a time: remove the key");
        }
      }
    }
    if (mistakes.all().size() > before) {
      return null;
    }
    return new PlannedFault(
        new Injection(
            kind,
            v.get(SINCE) == 1 ? Injection.Since.TURN : Injection.Since.MOUNT,
            v.get(AT),
            v.isGiven(FOR) ? v.get(FOR) : Long.MAX_VALUE,
            strength),
        v.isGiven(SEED) ? v.get(SEED) : -1,
        v.isGiven(EXPECT) ? VERDICTS.get((int) v.get(EXPECT)) : null,
        cause,
        v.isGiven(WITHIN) ? v.get(WITHIN) : 0);
  }

  /** The faults of a plan and of a level together. */
  static List<PlannedFault> both(List<PlannedFault> one, List<PlannedFault> other) {
    List<PlannedFault> all = new ArrayList<>(one);
    all.addAll(other);
    return all;
  }
}
