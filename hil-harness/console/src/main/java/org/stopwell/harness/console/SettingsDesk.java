package org.stopwell.harness.console;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.FileStrength;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.advice.PlanAdvice;
import org.stopwell.harness.plan.Mistake;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.SettingsText;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.report.Place;
import org.stopwell.harness.report.SettingsFilesPage;
import org.stopwell.harness.report.StrengthPicture;
import tools.jackson.jr.ob.JSON;

/**
 * The settings files of one directory: shown, checked with the code of {@code check}, and saved
 * when they are valid. Nothing outside of the directory is read or written.
 */
public final class SettingsDesk {
  /** No settings to show. */
  public static final SettingsDesk NONE = new SettingsDesk(null, Policies.BUILT_IN);

  /** Where the pages are. */
  static final String ADDRESS = "/settings";

  /** The page of one file, as it lies on the shelf. */
  static final String PAGE = "/settings.html";

  /** Where the state of one file is. */
  static final String STATE = "/api/settings/";

  private static final String FILE = "file";

  private final @Nullable Path directory;
  private final Policies policies;

  /**
   * A desk.
   *
   * @param directory the directory of the settings; null for none
   * @param policies the policies that they may name
   */
  public SettingsDesk(@Nullable Path directory, Policies policies) {
    this.directory = directory;
    this.policies = policies;
  }

  /** The policies that settings may name. */
  Policies policies() {
    return policies;
  }

  /** Names of the settings files, in order. */
  List<String> names() throws IOException {
    if (directory == null) {
      return List.of();
    }
    try (Stream<Path> children = Files.list(directory)) {
      return children
          .filter(f -> Files.isRegularFile(f, LinkOption.NOFOLLOW_LINKS))
          .map(f -> String.valueOf(f.getFileName()))
          .filter(f -> f.matches(".*\\.ya?ml"))
          .sorted()
          .toList();
    }
  }

  /** A settings file by its name; never anything outside of the list. */
  Optional<Path> find(String name) throws IOException {
    return directory != null && names().contains(name)
        ? Optional.of(directory.resolve(name))
        : Optional.empty();
  }

  /** The list of the files. */
  Reply list() throws IOException {
    List<SettingsFilesPage.Entry> entries = new ArrayList<>();
    for (String name : names()) {
      Path file = find(name).orElseThrow();
      int mistakes = mistakes(file.toString(), read(file)).size();
      entries.add(
          new SettingsFilesPage.Entry(
              name,
              ADDRESS + "/" + ResultPages.encoded(name),
              mistakes == 0 ? "valid" : mistakes == 1 ? "1 mistake" : mistakes + " mistakes"));
    }
    return ResultPages.page(
        SettingsFilesPage.html(entries, new Place(List.of(new Place.Link("Console", "/")))));
  }

  /** What the page of one file shows at first. */
  Reply state(String name) throws IOException {
    Optional<Path> file = find(name);
    return file.isEmpty()
        ? Reply.notFound()
        : json(200, state(file.get(), read(file.get()), "", hash(read(file.get()))));
  }

  /**
   * Checks or saves a text.
   *
   * @param path {@code /settings/NAME/check} or {@code /settings/NAME/save}
   * @param body JSON: text, and for a check the section, key and value to put into it; to save, the
   *     hash of the text that the page began with
   */
  Reply post(String path, byte[] body) throws IOException {
    String[] parts = path.split("/", -1);
    Optional<Path> file = parts.length == 4 ? find(parts[2]) : Optional.empty();
    if (file.isEmpty()) {
      return Reply.notFound();
    }
    Map<String, Object> asked;
    try {
      asked = JSON.std.mapFrom(body);
    } catch (RuntimeException e) {
      return Reply.text(400, "The request is not JSON.");
    }
    String text = text(asked, "text");
    return switch (parts[3]) {
      case "check" -> check(file.get(), text, asked);
      case "save" -> save(file.get(), text, text(asked, "hash"));
      default -> Reply.notFound();
    };
  }

  private Reply check(Path file, String text, Map<String, Object> asked) throws IOException {
    String hash = text(asked, "hash");
    if (!asked.containsKey("key")) {
      return json(200, state(file, text, "", hash));
    }
    Optional<String> changed =
        new SettingsText(file.toString(), text)
            .with(text(asked, "section"), text(asked, "key"), text(asked, "value"));
    return json(
        200,
        state(
            file,
            changed.orElse(text),
            changed.isPresent()
                ? ""
                : "This value shares its line with other text. Change it in the text.",
            hash));
  }

  private synchronized Reply save(Path file, String text, String hash) throws IOException {
    if (!hash(read(file)).equals(hash)) {
      return Reply.text(
          409, "Not saved: the file has changed since the page read it. Reload the page.");
    }
    List<Mistake> mistakes = mistakes(file.toString(), text);
    if (!mistakes.isEmpty()) {
      return Reply.text(409, "Not saved: " + mistakes.get(0));
    }
    Path aside = file.resolveSibling(file.getFileName() + ".new");
    Files.writeString(aside, text, StandardCharsets.UTF_8);
    Files.move(aside, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    return json(200, state(file, text, "Saved.", hash(text)));
  }

  private Map<String, Object> state(Path file, String text, String note, String hash) {
    SettingsText written = new SettingsText(file.toString(), text);
    Map<String, Object> state = new LinkedHashMap<>();
    state.put("name", String.valueOf(file.getFileName()));
    state.put("text", text);
    state.put("hash", hash);
    state.put("note", note);
    List<Map<String, Object>> mistakes = new ArrayList<>();
    for (Mistake m : mistakes(file.toString(), text)) {
      mistakes.add(Map.of("line", m.line(), "key", m.key(), "message", m.message()));
    }
    state.put("mistakes", mistakes);
    Map<String, ParameterTable> tables = ControllerSettings.tables(policies.tables());
    List<Map<String, Object>> sections = new ArrayList<>();
    for (String section : sections(written)) {
      ParameterTable table = tables.get(section);
      if (table != null) {
        sections.add(section(section, table, written.values(section), inherited(section, written)));
      }
    }
    state.put("sections", sections);
    state.put("picture", picture(written));
    state.put("advice", advice(file.toString(), text));
    return state;
  }

  /**
   * What a section takes from another one where it is silent: the file of a stage from the file.
   */
  private static Map<String, String> inherited(String section, SettingsText written) {
    Map<String, String> from = new LinkedHashMap<>();
    if (section.endsWith("." + FILE)) {
      FileParameters.ofStage(written.values(FILE), Map.of())
          .forEach((key, value) -> from.put(key, value.toString()));
    }
    return from;
  }

  /** The file, then the stages that are described, each with its own file if it has one. */
  private static List<String> sections(SettingsText written) {
    List<String> sections = new ArrayList<>();
    Stream.concat(
            Stream.of(FILE),
            Stream.of(Stage.values()).flatMap(s -> Stream.of(key(s), ControllerSettings.fileOf(s))))
        .filter(written::has)
        .forEach(sections::add);
    return sections;
  }

  private static String key(Stage stage) {
    return ControllerSettings.nameOf(stage);
  }

  private static String word(Stage stage) {
    return stage.name().toLowerCase(Locale.ROOT);
  }

  private static Map<String, Object> section(
      String name,
      ParameterTable table,
      Map<String, String> values,
      Map<String, String> inherited) {
    List<Map<String, Object>> fields = new ArrayList<>();
    for (Parameter p : table.parameters()) {
      Map<String, Object> field = new LinkedHashMap<>();
      field.put("key", p.key());
      field.put("kind", p.kind().name().toLowerCase(Locale.ROOT));
      field.put("unit", p.unit());
      field.put("min", p.kind() == Parameter.Kind.NUMBER ? p.human(p.min()) : "");
      field.put("max", p.kind() == Parameter.Kind.NUMBER ? p.human(p.max()) : "");
      field.put(
          "choices", p.kind() == Parameter.Kind.FLAG ? List.of("true", "false") : p.choices());
      field.put(
          "default",
          p.required() ? "" : inherited.getOrDefault(p.key(), p.human(p.defaultValue())));
      field.put("text", p.text());
      field.put("value", values.getOrDefault(p.key(), ""));
      fields.add(field);
    }
    Map<String, Object> section = new LinkedHashMap<>();
    section.put("name", name);
    section.put("fields", fields);
    return section;
  }

  /**
   * Drawn from what is written, so that it follows the typing even where something else is wrong.
   */
  private static String picture(SettingsText written) {
    List<StrengthPicture.Stage> stages = new ArrayList<>();
    boolean several =
        Stream.of(Stage.values()).anyMatch(s -> written.has(ControllerSettings.fileOf(s)));
    for (Stage stage : Stage.values()) {
      if (written.has(key(stage))) {
        List<Fault> faults = new ArrayList<>();
        ParameterValues values = StageParameters.TABLE.resolve(written.values(key(stage)), faults);
        ParameterValues file = file(stage, written);
        boolean wrong = faults.stream().anyMatch(f -> f.key().equals(StageParameters.TORQUE.key()));
        stages.add(
            new StrengthPicture.Stage(
                word(stage),
                wrong ? OptionalInt.empty() : OptionalInt.of(values.getInt(StageParameters.TORQUE)),
                several ? words(file) : "",
                new FileStrength(file)));
      }
    }
    return stages.isEmpty() ? "" : StrengthPicture.svg(stages);
  }

  private static ParameterValues file(Stage stage, SettingsText written) {
    Map<String, String> all = written.values(FILE);
    String own = ControllerSettings.fileOf(stage);
    return FileParameters.TABLE.resolve(
        written.has(own) ? FileParameters.ofStage(all, written.values(own)) : all,
        new ArrayList<>());
  }

  private static String words(ParameterValues file) {
    return "size "
        + FileParameters.SIZE.human(file.get(FileParameters.SIZE))
        + ", taper "
        + FileParameters.TAPER.human(file.get(FileParameters.TAPER));
  }

  /** What check says of valid settings. */
  private List<String> advice(String name, String text) {
    List<String> lines = new ArrayList<>();
    try {
      PlanAdvice.of(
          Settings.read(new Source(name, text), policies), line -> lines.add(line.strip()));
    } catch (PlanException e) {
      // Their mistakes are listed.
    }
    return lines;
  }

  private List<Mistake> mistakes(String name, String text) {
    try {
      Settings.read(new Source(name, text), policies);
      return List.of();
    } catch (PlanException e) {
      return e.mistakes();
    }
  }

  private static String read(Path file) throws IOException {
    try {
      return Source.of(file).text();
    } catch (PlanException e) {
      throw new IOException(e.getMessage(), e);
    }
  }

  private static String text(Map<String, Object> asked, String key) {
    return asked.get(key) instanceof String text ? text : "";
  }

  private static String hash(String text) {
    return StartDesk.hash(text);
  }

  private static Reply json(int code, Object values) throws IOException {
    return new Reply(code, "application/json", JSON.std.asBytes(values), Optional.empty(), "", "");
  }
}
