package org.stopwell.harness.plan;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.Parameter;

/** The settings files of a plan: its own, and those that levels of factors name in its place. */
final class PlanSettings {
  private final Source source;
  private final @Nullable Source given;
  private final Policies policies;
  private final Mistakes mistakes;

  /** Files that levels name, by name; one that is wrong is empty. */
  private final Map<String, Optional<Settings>> files = new LinkedHashMap<>();

  /** The texts that a run file holds, by name; none where the files are read from the disk. */
  private final Map<String, Source> recorded;

  /** Settings files that were read before, by name; the plan's own has an empty one. */
  private final Map<String, Settings> known;

  PlanSettings(
      Source source,
      @Nullable Source settings,
      Policies policies,
      Map<String, Settings> known,
      Mistakes mistakes) {
    this.source = source;
    this.known = Map.copyOf(known);
    this.recorded = settings == null ? Map.of() : SettingsFiles.of(settings);
    this.given = recorded.get("");
    this.policies = policies;
    this.mistakes = mistakes;
  }

  /** The settings that the plan names, with their mistakes beside its own. */
  @Nullable Settings ofPlan(Yaml.Mapping top) {
    String name = FreeText.required(top, "settings", mistakes);
    if (known.containsKey("")) {
      return known.get("");
    }
    try {
      if (given != null) {
        return Settings.read(given, policies);
      }
      if (!name.isEmpty()) {
        return Settings.read(Source.of(Path.of(source.name()).resolveSibling(name)), policies);
      }
    } catch (InvalidPathException e) {
      mistakes.add(Groups.line(top, "settings"), "settings", "\"" + name + "\" is not a file name");
    } catch (PlanException e) {
      mistakes.addAll(e.mistakes());
    }
    return null;
  }

  /** The settings file that a level names. */
  Optional<Settings> file(String name, int line, String path) {
    Optional<Settings> found = files.get(name);
    if (found != null) {
      return found;
    }
    Optional<Settings> read = Optional.ofNullable(known.get(name));
    if (read.isPresent()) {
      files.put(name, read);
      return read;
    }
    try {
      Source file = recorded.get(name);
      read =
          Optional.of(
              Settings.read(
                  file != null ? file : Source.of(Path.of(source.name()).resolveSibling(name)),
                  policies));
    } catch (InvalidPathException e) {
      mistakes.add(line, path, "\"" + name + "\" is not a file name");
    } catch (PlanException e) {
      for (Mistake mistake : e.mistakes()) {
        if (mistake.line() > 0) {
          mistakes.addAll(List.of(mistake));
        } else {
          // A file that cannot be read is a mistake of the line that names it.
          mistakes.add(line, path, name + ": " + mistake.message());
        }
      }
    }
    files.put(name, read);
    return read;
  }

  /** The files that levels name, without those that are wrong. */
  Map<String, Settings> files() {
    Map<String, Settings> read = new LinkedHashMap<>();
    files.forEach((name, file) -> file.ifPresent(f -> read.put(name, f)));
    return read;
  }

  /** The settings of the controller in a condition. */
  Settings told(Settings settings, Stage stage, DraftCondition draft) {
    Settings file = draft.told().file().orElse(settings);
    Settings told = file.with(draft.told(), "settings of condition " + draft.name(), mistakes);
    Stage own = draft.stage().orElse(stage);
    if (told.controller().hasOwnFile(own)) {
      for (Parameter p : List.of(FileParameters.SIZE, FileParameters.TAPER)) {
        draft
            .told()
            .values()
            .find("file", p.key())
            .forEach(
                w ->
                    mistakes.add(
                        w.line(),
                        w.path(),
                        "has no effect: stage "
                            + Settings.word(own)
                            + " names its own file; write "
                            + ControllerSettings.fileOf(own)));
      }
    }
    if (own != stage && !told.controller().has(own)) {
      mistakes.add(
          draft.line(),
          "stage of condition " + draft.name(),
          Settings.word(own) + " is not described in " + file.source().name());
    }
    return told;
  }
}
