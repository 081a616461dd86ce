package org.stopwell.harness.casework;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.plan.KeyGroup;
import org.stopwell.harness.plan.KeyGroup.Changed;
import org.stopwell.harness.plan.KeyGroup.Written;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.Source;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;

/** Reads a case file, and finds all mistakes in it and in its settings at once. */
public final class CaseReader {
  private final KeyGroup top;

  private CaseReader(KeyGroup top) {
    this.top = top;
  }

  /**
   * Reads the case of a directory.
   *
   * @param directory the directory that {@code case new} made
   * @return the case
   * @throws PlanException with every mistake in its files
   */
  public static ToothCase read(Path directory) throws PlanException {
    return read(Source.of(directory.resolve(ToothCase.FILE)));
  }

  /**
   * Reads a case file.
   *
   * @param source the file; its settings file lies beside it
   * @return the case
   * @throws PlanException with every mistake in it and in its settings
   */
  public static ToothCase read(Source source) throws PlanException {
    return new CaseReader(KeyGroup.of(source)).read(sha256(source.text()));
  }

  private ToothCase read(String sha256) throws PlanException {
    ParameterValues head = top.values(CaseTables.HEAD, allowed(top, CaseTables.HEAD_OTHERS));
    long tooth = head.get(CaseTables.TOOTH);
    if (top.has(CaseTables.TOOTH.key()) && !CaseTables.isTooth(tooth)) {
      top.wrong(
          CaseTables.TOOTH.key(), tooth + " is not an FDI number: " + CaseTables.TOOTH.text());
    }
    String operator = operator();
    Optional<Settings> file = top.settingsFile(CaseTables.SETTINGS);
    Optional<Changed> ofTooth = file.map(f -> top.stages(CaseTables.STAGES, Changed.nothing(f)));
    Written scene = top.scene(CaseTables.SIMULATED);
    elsewhere(top);
    List<CaseCanal> canals = new ArrayList<>();
    Optional<KeyGroup> group = top.group(CaseTables.CANALS);
    if (!top.has(CaseTables.CANALS) || group.filter(g -> g.keys().isEmpty()).isPresent()) {
      top.wrong(CaseTables.CANALS, "must name at least one canal, such as MB");
    }
    group.ifPresent(
        all -> all.keys().forEach(name -> canal(all, name, head, ofTooth, scene, canals)));
    top.finish();
    return new ToothCase(
        (int) tooth,
        operator,
        file.orElseThrow(),
        top.text(CaseTables.SETTINGS).orElseThrow(),
        canals,
        sha256);
  }

  private void canal(
      KeyGroup all,
      String name,
      ParameterValues head,
      Optional<Changed> ofTooth,
      Written ofToothScene,
      List<CaseCanal> canals) {
    if (CaseTables.personal(name).isPresent() || !CaseTables.CANAL_NAME.matcher(name).matches()) {
      all.wrong(name, CaseTables.NOT_CANAL);
    }
    Optional<KeyGroup> found = all.group(name);
    if (found.isEmpty()) {
      return;
    }
    KeyGroup at = found.get();
    ParameterValues own = at.values(CaseTables.CANAL, allowed(at, CaseTables.CANAL_OTHERS));
    CrownPoint reference = CrownPoint.of(own.choice(CaseTables.REFERENCE));
    int offset = own.getInt(CaseTables.OFFSET);
    if (reference == CrownPoint.ORIFICE && offset != 0) {
      at.wrong(
          CaseTables.OFFSET.key(),
          CaseTables.OFFSET.human(offset) + " mm, must be 0 where the reference is the orifice");
    }
    ParameterValues apex = own.isGiven(CaseTables.APEX) ? own : head;
    ParameterValues fluid = own.isGiven(FluidSection.IRRIGANT) ? own : head;
    Written scene = at.scene(CaseTables.SIMULATED, ofToothScene);
    elsewhere(at);
    try {
      Scene.of(scene.texts(), 0);
    } catch (SettingsException e) {
      at.place(CaseTables.SIMULATED, scene, e.faults());
    }
    ofTooth
        .map(t -> at.stages(CaseTables.STAGES, t))
        .ifPresent(
            changed ->
                canals.add(
                    new CaseCanal(
                        name,
                        reference,
                        offset,
                        ApexState.of(apex.choice(CaseTables.APEX)),
                        fluid.choice(FluidSection.IRRIGANT),
                        changed.settings(),
                        changed.written().texts(),
                        scene.texts())));
  }

  private String operator() {
    Optional<String> code = top.text(CaseTables.OPERATOR);
    code.flatMap(CaseReader::notOperator).ifPresent(why -> top.wrong(CaseTables.OPERATOR, why));
    if (code.isEmpty() && !top.has(CaseTables.OPERATOR)) {
      top.wrong(CaseTables.OPERATOR, "missing; write a code, such as A1");
    }
    return code.orElse("");
  }

  /**
   * Why a text is not the code of an operator.
   *
   * @param code what was written
   * @return a few words; empty when it is one
   */
  public static Optional<String> notOperator(String code) {
    return CaseTables.OPERATOR_CODE.matcher(code).matches()
        ? Optional.empty()
        : Optional.of(
            "\""
                + code
                + "\" is not a code: up to 8 letters and digits with at least one digit, such as A1;"
                + " a name is not allowed here");
  }

  /** Keys that are read elsewhere, with those that would identify a person and are noted here. */
  private static Set<String> allowed(KeyGroup at, Set<String> others) {
    Set<String> all = new LinkedHashSet<>(others);
    for (String key : at.keys()) {
      Optional<String> why = CaseTables.personal(key).filter(w -> !others.contains(key));
      if (why.isPresent()) {
        at.wrong(key, why.get());
        all.add(key);
      }
    }
    return all;
  }

  /** Scene keys that the case states in another place. */
  private static void elsewhere(KeyGroup at) {
    at.group(CaseTables.SIMULATED)
        .ifPresent(
            scene ->
                CaseTables.ELSEWHERE.forEach(
                    (key, where) -> {
                      List<String> parts = List.of(key.split("\\.", -1));
                      scene
                          .group(parts.get(0))
                          .filter(section -> section.has(parts.get(1)))
                          .ifPresent(section -> section.wrong(parts.get(1), where));
                    }));
  }

  /**
   * SHA-256 of a text.
   *
   * @param text the text
   * @return hexadecimal
   */
  static String sha256(String text) {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      return HexFormat.of().formatHex(digest.digest(text.getBytes(StandardCharsets.UTF_8)));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}
