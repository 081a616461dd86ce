package org.stopwell.harness.record;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.budget.StopBudget;
import org.stopwell.harness.plan.Device;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;
import tools.jackson.core.JacksonException;
import tools.jackson.jr.ob.JSON;

/** A design as JSON, the form in which a run file keeps it. */
final class DesignText {
  private DesignText() {}

  static String of(Design design) {
    Map<String, Object> all = new LinkedHashMap<>();
    design.analysis().ifPresent(a -> all.put("analysis", analysis(a)));
    all.put("told", design.told().stream().map(DesignText::told).toList());
    Map<String, Object> faults = new LinkedHashMap<>();
    design
        .faults()
        .forEach((name, list) -> faults.put(name, list.stream().map(DesignText::fault).toList()));
    all.put("faults", faults);
    design.budget().ifPresent(b -> all.put("budget", budget(b)));
    if (!design.weights().isEmpty()) {
      all.put("weights", design.weights().stream().map(DesignText::weights).toList());
    }
    if (!design.devices().isEmpty()) {
      Map<String, Object> devices = new LinkedHashMap<>();
      design.devices().forEach((condition, d) -> devices.put(condition, device(d)));
      all.put("devices", devices);
    }
    return JSON.std.asString(all);
  }

  private static Map<String, Object> device(Device d) {
    Map<String, Object> one = new LinkedHashMap<>();
    one.put("model", d.model());
    one.put("unit", d.unit());
    one.put("operator", d.operator());
    one.put("firmware", d.firmware());
    one.put("setting", d.setting());
    one.put("standoff_um", d.standoffMicrons());
    one.put("battery", d.battery());
    if (d.advances()) {
      one.put("advances", 1);
    }
    return one;
  }

  private static Device device(Node d) {
    return new Device(
        d.text("model"),
        d.text("unit"),
        d.text("operator"),
        d.text("firmware"),
        d.text("setting"),
        (int) d.whole("standoff_um"),
        d.text("battery"),
        d.has("advances"));
  }

  private static Map<String, Object> analysis(StatisticsChoice a) {
    Map<String, Object> one = new LinkedHashMap<>();
    one.put("coverage", a.coverage());
    one.put("precision", a.precision());
    one.put("agreement", a.agreement());
    one.put("sequential", a.sequential());
    one.put("margin_um", a.marginMicrons());
    one.put("share", a.share());
    one.put("confidence", a.confidence());
    one.put("factors", a.factors());
    one.put("groups", a.groups());
    return one;
  }

  private static Map<String, Object> told(Design.Told t) {
    Map<String, Object> one = new LinkedHashMap<>();
    one.put("conditions", t.conditions());
    one.put("stage", t.stage().name());
    one.put("fingerprint", t.fingerprint());
    one.put("changes", t.changes());
    return one;
  }

  private static Map<String, Object> fault(PlannedFault f) {
    Map<String, Object> one = new LinkedHashMap<>();
    one.put("kind", f.injection().kind().name());
    one.put("since", f.injection().since().name());
    one.put("start_ns", f.injection().startNs());
    one.put("duration_ns", f.injection().durationNs());
    one.put("strength", f.injection().strength());
    one.put("seed", f.seed());
    Verdict verdict = f.verdict();
    if (verdict != null) {
      one.put("verdict", verdict.name());
    }
    one.put("cause", f.cause());
    one.put("within_ns", f.withinNs());
    return one;
  }

  private static Map<String, Object> budget(StopBudget.Basis b) {
    Map<String, Object> one = new LinkedHashMap<>();
    one.put("standoff_ohm", b.standoffOhms());
    one.put("ohm_per_mm", b.ohmPerMm());
    if (b.micronsPerPicofarad().isPresent()) {
      one.put("um_per_pf", b.micronsPerPicofarad().getAsDouble());
    }
    if (b.toothMicrons().isPresent()) {
      one.put("tooth_um", b.toothMicrons().getAsDouble());
    }
    if (b.zeroMicrons().isPresent()) {
      one.put("zero_um", b.zeroMicrons().getAsDouble());
    }
    if (b.device()) {
      one.put("device", 1);
    }
    if (b.advanced()) {
      one.put("advanced", 1);
    }
    return one;
  }

  private static Map<String, Object> weights(Design.Weights w) {
    Map<String, Object> one = new LinkedHashMap<>();
    one.put("name", w.name());
    one.put("fingerprint", w.fingerprint());
    one.put("recipe", w.recipe());
    one.put("text", w.text());
    return one;
  }

  /**
   * Reads what {@link #of} wrote.
   *
   * @throws IllegalArgumentException when a value is missing or none of its kind
   */
  static Design read(String text) {
    try {
      Node all = new Node(JSON.std.mapFrom(text));
      Node analysis = all.node("analysis");
      Map<String, List<PlannedFault>> faults = new LinkedHashMap<>();
      Node byCondition = all.node("faults");
      for (Object key : byCondition.values.keySet()) {
        String condition = String.valueOf(key);
        faults.put(
            condition, byCondition.nodes(condition).stream().map(DesignText::fault).toList());
      }
      Map<String, Device> devices = new LinkedHashMap<>();
      if (all.has("devices")) {
        Node those = all.node("devices");
        for (Object key : those.values.keySet()) {
          devices.put(String.valueOf(key), device(those.node(String.valueOf(key))));
        }
      }
      return new Design(
          Optional.of(
              new StatisticsChoice(
                  analysis.flag("coverage"),
                  analysis.flag("precision"),
                  analysis.flag("agreement"),
                  analysis.flag("sequential"),
                  (int) analysis.whole("margin_um"),
                  analysis.real("share"),
                  analysis.real("confidence"),
                  analysis.texts("factors"),
                  analysis.texts("groups"))),
          all.nodes("told").stream()
              .map(
                  t ->
                      new Design.Told(
                          t.texts("conditions"),
                          Listed.of(Stage.class, "design.stage", t.text("stage")),
                          t.text("fingerprint"),
                          t.texts("changes")))
              .toList(),
          faults,
          all.has("budget") ? Optional.of(budget(all.node("budget"))) : Optional.empty(),
          (all.has("weights") ? all.nodes("weights") : List.<Node>of())
              .stream()
                  .map(
                      w ->
                          new Design.Weights(
                              w.text("name"),
                              w.text("fingerprint"),
                              w.text("recipe"),
                              w.text("text")))
                  .toList(),
          devices,
          true,
          "");
    } catch (JacksonException e) {
      throw new IllegalArgumentException("the design is not JSON", e);
    }
  }

  private static PlannedFault fault(Node f) {
    return new PlannedFault(
        new Injection(
            Listed.of(FaultKind.class, "design.kind", f.text("kind")),
            Listed.of(Injection.Since.class, "design.since", f.text("since")),
            f.whole("start_ns"),
            f.whole("duration_ns"),
            f.real("strength")),
        f.whole("seed"),
        f.has("verdict") ? Listed.of(Verdict.class, "design.verdict", f.text("verdict")) : null,
        f.text("cause"),
        f.whole("within_ns"));
  }

  private static StopBudget.Basis budget(Node b) {
    return new StopBudget.Basis(
        b.real("standoff_ohm"),
        b.real("ohm_per_mm"),
        optional(b, "um_per_pf"),
        optional(b, "tooth_um"),
        optional(b, "zero_um"),
        b.has("device"),
        b.has("advanced"));
  }

  private static OptionalDouble optional(Node b, String key) {
    return b.has(key) ? OptionalDouble.of(b.real(key)) : OptionalDouble.empty();
  }

  /** One JSON object; what is missing or of another kind is refused by its key. */
  private record Node(Map<?, ?> values) {
    boolean has(String key) {
      return values.containsKey(key);
    }

    Node node(String key) {
      return new Node(value(key, Map.class));
    }

    List<Node> nodes(String key) {
      List<Node> nodes = new ArrayList<>();
      for (Object one : value(key, List.class)) {
        nodes.add(new Node(is(key, one, Map.class)));
      }
      return nodes;
    }

    List<String> texts(String key) {
      List<String> texts = new ArrayList<>();
      for (Object one : value(key, List.class)) {
        texts.add(is(key, one, String.class));
      }
      return texts;
    }

    String text(String key) {
      return value(key, String.class);
    }

    boolean flag(String key) {
      return value(key, Boolean.class);
    }

    long whole(String key) {
      return value(key, Number.class).longValue();
    }

    double real(String key) {
      return value(key, Number.class).doubleValue();
    }

    private <T> T value(String key, Class<T> kind) {
      return is(key, values.get(key), kind);
    }

    private static <T> T is(String key, @Nullable Object value, Class<T> kind) {
      if (!kind.isInstance(value)) {
        throw new IllegalArgumentException(
            "the design has no valid value of "
                + key
                + ": "
                + (value == null ? "it is missing" : value));
      }
      return kind.cast(value);
    }
  }
}
