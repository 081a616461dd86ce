package org.stopwell.harness.plan;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.rig.bench.CanalKind;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;

/** Reads the section {@code device} of a plan and of its levels, and finds what contradicts it. */
final class DeviceReader {
  static final String KEY = "device";

  /** Regular expression of a code. */
  static final String CODE = "[A-Za-z0-9][A-Za-z0-9._+-]{0,39}";

  private static final Pattern IS_CODE = Pattern.compile(CODE);

  /** The texts of the section, each with its meaning. */
  static final Map<String, String> TEXTS = texts();

  /** The texts that must be stated. */
  static final List<String> REQUIRED = List.of("model", "unit", "operator");

  static final Parameter STANDOFF =
      Parameter.of("standoff_mm")
          .unit("mm", 3)
          .range("-2", "5")
          .initially("0.5")
          .required()
          .text(
              "Distance short of the foramen at which the device claims to stop with this setting;"
                  + " it is the standoff of the trials.")
          .source("the maker's statement, or the reader's assumption");

  static final Parameter BATTERY =
      Parameter.of("battery")
          .choice("unstated", "full", "half", "low", "mains")
          .text("State of its battery at the start of the trials.")
          .source("design choice");

  private static final String ADVANCE = "advance";

  static final Parameter REST_BY =
      Parameter.of("rest_by")
          .choice("length", ADVANCE)
          .text(
              "How the distance at rest is known in an extracted tooth. length: by the measured"
                  + " length; advance: the file advances after the stop until an observer sees its"
                  + " tip at the foramen.")
          .source("design choice");

  /** Keys of the section beside its texts. */
  static final ParameterTable TABLE = new ParameterTable(List.of(STANDOFF, BATTERY, REST_BY));

  private static final List<String> NETWORKS =
      Arrays.stream(CanalKind.values())
          .filter(CanalKind::isBuilt)
          .map(kind -> kind.name().toLowerCase(Locale.ROOT))
          .toList();

  /** A controller outside of this program. */
  static final String EXTERNAL = "external";

  static final Parameter CONTROLLER =
      Parameter.of("controller")
          .choice("own", EXTERNAL)
          .text(
              "own: the controller of the settings decides. external: a device with a motor of its"
                  + " own decides; nothing is commanded, and the bench plays the canal, feeds the"
                  + " file and watches. Then device is required.")
          .source("design choice");

  private final Yaml.Mapping top;
  private final boolean external;
  private final Mistakes mistakes;

  DeviceReader(Yaml.Mapping top, boolean external, Mistakes mistakes) {
    this.top = top;
    this.external = external;
    this.mistakes = mistakes;
  }

  /** The section as written at the top of the plan. */
  Yaml.Mapping ofPlan() {
    return of(top, "");
  }

  /** The section as written in a level. */
  Yaml.Mapping of(Yaml.Mapping at, String path) {
    Yaml.Entry entry = at.entries().get(KEY);
    if (entry != null && !external) {
      mistakes.add(entry.line(), Sections.join(path, KEY), "needs controller: external at the top");
    }
    return Groups.of(at, path, KEY, mistakes);
  }

  /** The keys of one section over those of another. */
  static Yaml.Mapping under(Yaml.Mapping below, Yaml.Mapping over) {
    Map<String, Yaml.Entry> entries = new LinkedHashMap<>(below.entries());
    entries.putAll(over.entries());
    return new Yaml.Mapping(entries, below.entries().isEmpty() ? over.line() : below.line());
  }

  /** The device of a condition; its mistakes are noted. */
  Optional<Device> read(Yaml.Mapping written) {
    if (!external) {
      return Optional.empty();
    }
    Mistakes own = new Mistakes("");
    Map<String, String> texts = new LinkedHashMap<>();
    for (String key : TEXTS.keySet()) {
      String text =
          REQUIRED.contains(key)
              ? FreeText.required(written, key, own)
              : FreeText.optional(written, key, own);
      if (!text.isEmpty() && !IS_CODE.matcher(text).matches()) {
        own.add(
            Groups.line(written, key),
            key,
            "\"" + text + "\" is not a code: letters, digits and . _ + -, at most 40");
      }
      texts.put(key, text.isEmpty() ? Device.UNSTATED : text);
    }
    own.all().forEach(m -> mistakes.add(m.line(), KEY + "." + m.key(), m.message()));
    ParameterValues values = Sections.resolve(written, KEY, TABLE, TEXTS.keySet(), mistakes);
    return Optional.of(
        new Device(
            texts.getOrDefault("model", ""),
            texts.getOrDefault("unit", ""),
            texts.getOrDefault("operator", ""),
            texts.getOrDefault("firmware", ""),
            texts.getOrDefault("setting", ""),
            values.getInt(STANDOFF),
            values.choice(BATTERY),
            values.choice(REST_BY).equals(ADVANCE)));
  }

  /** Notes what a plan without a controller of its own cannot hold. */
  void check(List<DraftCondition> drafts, List<PlannedFault> faults) {
    check(faults, Groups.line(top, FaultReader.KEY), FaultReader.KEY);
    for (DraftCondition draft : drafts) {
      String where = FaultReader.KEY + " of condition " + draft.name();
      check(draft.faults(), draft.line(), where);
      List<PlannedFault> all = FaultReader.both(faults, draft.faults());
      if (all.stream().filter(f -> !f.injection().kind().ofController()).count() > 1) {
        mistakes.add(draft.line(), where, "a bench plays one fault of a device in one trial");
      }
    }
    if (!external) {
      return;
    }
    for (DraftCondition draft : drafts) {
      Expectation expects = draft.expects();
      if (expects == Expectation.DEPTH_LIMIT || expects == Expectation.SURVEY) {
        mistakes.add(
            draft.ownAt().orElse(Groups.line(top, PlanTables.EXPECT.key())),
            PlanTables.EXPECT.key(),
            Expectation.keys().get(expects.ordinal())
                + " needs the controller of the settings; with controller: external write stop,"
                + " refuse, patency, stop_or_refuse or compare");
      }
    }
  }

  /** A kind of fault acts on a device or on a controller; the stall of the host acts on both. */
  private void check(List<PlannedFault> faults, int line, String key) {
    for (PlannedFault fault : faults) {
      FaultKind kind = fault.injection().kind();
      if (!external && !kind.ofController()) {
        mistakes.add(line, key, kind.key() + " acts on a device: it needs controller: external");
      } else if (external && kind.ofDevice().isEmpty()) {
        mistakes.add(
            line,
            key,
            kind.key()
                + " acts on a controller and has no effect on a device: remove it; the kinds for a"
                + " device are host_stall and those that begin with device_");
      } else if (external && fault.injection().since() == Injection.Since.TURN) {
        mistakes.add(
            line, key, kind.key() + ": since: turn needs a command to turn; write since: mount");
      } else if (external && fault.withinNs() > 0) {
        mistakes.add(line, key, kind.key() + ": within_ms needs a command to rest; remove the key");
      }
    }
  }

  /** Notes claims about a place where none of the canals has a foramen. */
  void checkClaims(Yaml.Mapping claims, List<PlannedCondition> conditions) {
    boolean network =
        conditions.stream()
            .map(c -> c.scene().getOrDefault("canal", Map.of()))
            .anyMatch(c -> NETWORKS.contains(c.getOrDefault(CanalSection.KIND.key(), "")));
    if (external && network) {
      claims
          .entries()
          .forEach(
              (key, entry) ->
                  mistakes.add(
                      entry.line(),
                      "claims." + key,
                      "has no meaning for a device on a network of resistors: only static trip,"
                          + " repeatability, hysteresis and overshoot per feed have one; remove the"
                          + " claim, or use a tooth"));
    }
  }

  /** Notes a distance at rest by an advance where nobody could see the tip at a foramen. */
  void checkRest(List<ExtractedTooth> teeth, List<PlannedCondition> conditions) {
    for (PlannedCondition condition : conditions) {
      if (condition.device().filter(Device::advances).isEmpty()) {
        continue;
      }
      Map<String, String> hand = condition.scene().getOrDefault("hand", Map.of());
      String after = hand.getOrDefault(HandSection.AFTER_STOP.key(), "hold");
      if (teeth.isEmpty()) {
        wrongRest(condition, "needs teeth, the extracted teeth");
      } else if (!after.equals("hold")) {
        wrongRest(condition, "needs hand.after_stop: hold, is " + after);
      }
    }
  }

  private void wrongRest(PlannedCondition condition, String why) {
    mistakes.add(
        Groups.line(top, KEY),
        KEY + "." + REST_BY.key(),
        ADVANCE + " in condition " + condition.name() + " " + why);
  }

  /** Notes settings of a level, which no device would follow. */
  void refuseSettings(int line, String path) {
    if (external) {
      refuse(line, path);
    }
  }

  private void refuse(int line, String key) {
    mistakes.add(
        line,
        key,
        "has no effect on a device: remove it, or write controller: own"
            + (key.endsWith("settings") ? "; the setting of a device is device.setting" : ""));
  }

  private static Map<String, String> texts() {
    Map<String, String> texts = new LinkedHashMap<>();
    texts.put("model", "Code of the model. On the virtual bench, the name of a simulated device.");
    texts.put("unit", "Code of the unit of this model.");
    texts.put("operator", "Code of the person who runs the device.");
    texts.put("firmware", "Firmware, as the device states it.");
    texts.put("setting", "Setting, as the device shows it.");
    return texts;
  }
}
