package org.stopwell.harness.cli;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import picocli.CommandLine.Parameters;

/** A scene given on the command line, {@code section.key=value}. */
final class SceneValues {
  @Parameters(
      arity = "0..*",
      paramLabel = "KEY=VALUE",
      description =
          "Values that differ from the defaults of a scene, such as fluid.level_mm=10."
              + " Keys: docs/plan-reference.md.")
  List<String> values = new ArrayList<>();

  /** The scene, with every mistake in one message. */
  Scene scene() throws UsageException {
    try {
      return Scene.of(written(), 0);
    } catch (SettingsException e) {
      throw mistakes(e);
    }
  }

  /** The values by key, by section. */
  Map<String, Map<String, String>> written() throws UsageException {
    Map<String, Map<String, String>> written = new LinkedHashMap<>();
    for (String value : values) {
      int equals = value.indexOf('=');
      int dot = value.indexOf('.');
      if (!(dot > 0 && equals > dot) || !Scene.tables().containsKey(value.substring(0, dot))) {
        throw new UsageException(
            value
                + ": write section.key=value with one of the sections "
                + String.join(", ", Scene.tables().keySet()));
      }
      written
          .computeIfAbsent(value.substring(0, dot), s -> new LinkedHashMap<>())
          .put(value.substring(dot + 1, equals), value.substring(equals + 1));
    }
    return written;
  }

  /** Every mistake in one message. */
  static UsageException mistakes(SettingsException e) {
    return new UsageException(
        e.faults().stream()
            .map(f -> f.key().substring(0, f.key().lastIndexOf('.') + 1) + f.message())
            .collect(Collectors.joining("; ")));
  }
}
