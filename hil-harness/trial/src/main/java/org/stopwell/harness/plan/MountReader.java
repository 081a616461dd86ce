package org.stopwell.harness.plan;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalKind;
import org.stopwell.rig.bench.FluidSection;

/** Reads the section {@code mount} of a plan and of its levels, and finds what contradicts it. */
final class MountReader {
  static final String KEY = "mount";

  /** The two temperatures of a mount, room and mouth, tenths of a °C; assumed. */
  static final int ROOM_TENTHS = 230;

  static final int MOUTH_TENTHS = 350;

  private static final List<Integer> NOMINAL = List.of(ROOM_TENTHS, MOUTH_TENTHS);

  /** How far a mount may be from one of them, tenths of a °C; assumed, as in the budget. */
  private static final int OFF = 10;

  static final Parameter MEDIUM =
      Parameter.of("medium")
          .choice("gelatine", "alginate", "agar")
          .required()
          .text("What the tooth is mounted in.")
          .source("media of published studies on extracted teeth, from memory");

  static final Parameter TEMPERATURE =
      Parameter.of("temperature_c")
          .unit("°C", 1)
          .range("22", "36")
          .initially("23")
          .required()
          .text(
              "Measured temperature of medium, tooth and fluid: 22 to 24 (23 ± 1) or 34 to 36"
                  + " (35 ± 1).")
          .source("room and mouth, assumed");

  static final Parameter CONDUCTIVITY =
      Parameter.of("conductivity_s_per_m")
          .unit("S/m", 3)
          .range("0.01", "10")
          .initially("0.5")
          .required()
          .text("Measured conductivity of the medium at its temperature.")
          .source("a conductivity meter; limits assumed");

  static final Parameter AGE =
      Parameter.of("age_h")
          .unit("h", 1)
          .range("0", "168")
          .initially("0")
          .required()
          .text("Age of the medium at the first trial. A medium dries as it ages.")
          .source("a clock; limit of one week assumed");

  /** Keys of the section. */
  static final ParameterTable TABLE =
      new ParameterTable(List.of(MEDIUM, TEMPERATURE, CONDUCTIVITY, AGE));

  private final boolean allowed;
  private final Mistakes mistakes;

  /** A reader; only teeth and devices have a mount. */
  MountReader(boolean allowed, Mistakes mistakes) {
    this.allowed = allowed;
    this.mistakes = mistakes;
  }

  /** The section as written at the top of the plan, or in a level. */
  Yaml.Mapping of(Yaml.Mapping at, String path) {
    Yaml.Entry entry = at.entries().get(KEY);
    if (entry != null && !allowed) {
      mistakes.add(
          entry.line(),
          Sections.join(path, KEY),
          "needs teeth, the extracted teeth, or controller: external at the top");
    }
    return Groups.of(at, path, KEY, mistakes);
  }

  /** Whether a condition has a mount; then each must have one. */
  boolean used(List<DraftCondition> drafts) {
    boolean used = drafts.stream().anyMatch(d -> !d.mount().entries().isEmpty());
    drafts.stream()
        .filter(d -> used && d.mount().entries().isEmpty())
        .forEach(
            d ->
                mistakes.add(
                    d.line(),
                    KEY,
                    "condition "
                        + d.name()
                        + " has none; state it at the top, or in every level of a factor"));
    return used;
  }

  /** The mount of a condition; its mistakes are noted. */
  Optional<Mount> read(Yaml.Mapping written, Sections scene) {
    if (!allowed || written.entries().isEmpty()) {
      return Optional.empty();
    }
    ParameterValues v = Sections.resolve(written, KEY, TABLE, Set.of(), mistakes);
    int tenths = v.getInt(TEMPERATURE);
    if (NOMINAL.stream().noneMatch(n -> Math.abs(tenths - n) <= OFF)) {
      mistakes.add(
          Groups.line(written, TEMPERATURE.key()),
          KEY + "." + TEMPERATURE.key(),
          TEMPERATURE.human(tenths) + " °C, must be 22 to 24 °C (23 ± 1) or 34 to 36 °C (35 ± 1)");
    }
    scene
        .find(PlanTables.FLUID, FluidSection.TEMPERATURE.key())
        .forEach(
            w ->
                mistakes.add(
                    w.line(),
                    w.path(),
                    "is stated by mount.temperature_c on line "
                        + Groups.line(written, TEMPERATURE.key())
                        + "; remove it here"));
    scene
        .find("canal", "kind")
        .filter(w -> isNetwork(w.text()))
        .forEach(
            w ->
                mistakes.add(
                    w.line(), w.path(), w.text() + " is a network without a medium; remove mount"));
    return Optional.of(new Mount(v.choice(MEDIUM), tenths, v.getInt(CONDUCTIVITY), v.getInt(AGE)));
  }

  /** The fluid in a mounted tooth is as warm as the medium. */
  static void warm(Map<String, Map<String, String>> scene, Optional<Mount> mount) {
    mount.ifPresent(
        m ->
            scene
                .computeIfAbsent(PlanTables.FLUID, s -> new LinkedHashMap<>())
                .put(
                    FluidSection.TEMPERATURE.key(),
                    FluidSection.TEMPERATURE.human(m.temperatureTenths())));
  }

  private static boolean isNetwork(String word) {
    return Arrays.stream(CanalKind.values())
        .anyMatch(kind -> kind.isBuilt() && kind.name().equalsIgnoreCase(word));
  }
}
