package org.stopwell.harness.firmware;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.lang.reflect.Field;
import java.lang.reflect.Modifier;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.objectweb.asm.Opcodes;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.sense.DepthEstimate;
import org.stopwell.core.sense.LearnedCanal;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.PolicyParameters;
import org.stopwell.core.settings.PolicyTables;
import org.stopwell.core.weights.DepthWeights;

/**
 * The controller of some settings as C99 sources.
 *
 * @param files text of every file by its name
 * @param settingsFingerprint fingerprint of the settings, the curve and the weights
 * @param weightsFingerprint fingerprint of the weights; 0 without weights
 * @param buildFingerprint fingerprint of the code: equal code has equal fingerprints
 */
public record Firmware(
    Map<String, String> files,
    long settingsFingerprint,
    long weightsFingerprint,
    long buildFingerprint) {
  private static final String CORE = "org/stopwell/core/";
  private static final List<Method> ENTRIES =
      List.of(
          new Method(
              CORE + "StopController",
              "step",
              "(JL" + CORE + "frame/ControllerInput;L" + CORE + "frame/ControllerOutput;)V"),
          new Method(CORE + "StopController", "stateHash", "()J"),
          new Method(CORE + "frame/PositionKind", "ofCode", "(I)L" + CORE + "frame/PositionKind;"),
          new Method(CORE + "frame/Stage", "ofCode", "(I)L" + CORE + "frame/Stage;"));

  /** What takes up a learned canal; for controllers that learn. */
  private static final List<Method> RECALL =
      List.of(
          new Method(CORE + "StopController", "recall", "(L" + CORE + "sense/LearnedCanal;)Z"),
          new Method(CORE + "sense/LearnedCanal", "firstWild", "()I"));

  /** Copies the files. */
  public Firmware {
    files = new LinkedHashMap<>(files);
  }

  /**
   * Makes the sources.
   *
   * @param settings checked settings that name built-in policies alone
   * @return the sources
   * @throws FirmwareException when the settings name other policies
   */
  public static Firmware of(ControllerSettings settings) throws FirmwareException {
    refuseOwnPolicies(settings);
    StopController controller = new StopController(settings);
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    List<Field> frames = new ArrayList<>(fields(ControllerInput.class));
    frames.addAll(fields(ControllerOutput.class));
    List<Object> given = new ArrayList<>(List.of(in, out));
    List<Method> entries = new ArrayList<>(ENTRIES);
    LearnedCanal canal = new LearnedCanal(0, new double[LearnedCanal.NUMBERS]);
    boolean learns = settings.weights().flatMap(DepthWeights::recorded).isPresent();
    if (learns) {
      given.add(canal);
      entries.addAll(RECALL);
      frames.addAll(fields(LearnedCanal.class));
    }
    List<Object> roots = new ArrayList<>(List.of(controller));
    roots.addAll(given);
    ClassFiles files = new ClassFiles();
    Program program = new Program(files, roots, entries, frames);
    Recursion.refuse(program);
    Names names = new Names();
    DataWriter data = new DataWriter(program, names, new Constness(program, given));

    String model =
        resource("stopwell_model.h")
            .replace("@STRUCTURES@", data.structures())
            .replace("@CONSTANTS@", data.declaredConstants());
    StringBuilder declared = new StringBuilder();
    StringBuilder functions = new StringBuilder();
    for (Method method : program.methods().keySet()) {
      boolean isStatic = (files.body(method).access & Opcodes.ACC_STATIC) != 0;
      declared.append(MethodWriter.declaration(names, method, isStatic)).append(";\n");
      functions.append("\n").append(MethodWriter.write(program, names, method));
    }
    String code =
        resource("stopwell.c")
            .replace("@CONSTANTS@", data.constants())
            .replace("@DECLARATIONS@", declared)
            .replace("@FUNCTIONS@", functions)
            .replace("@STEP@", names.method(ENTRIES.get(0)))
            .replace("@HASH@", names.method(ENTRIES.get(1)))
            .replace("@CANAL@", learns ? canal(names) : resource("no_canal.c"));
    String header =
        resource("stopwell.h")
            .replace("@CODES@", codes())
            .replace("@CANAL_NUMBERS@", Integer.toString(LearnedCanal.NUMBERS));
    long build = fnv(header + model + code);
    long weights = settings.weights().map(DepthWeights::fingerprint).orElse(0L);
    String constants =
        resource("stopwell_settings.c")
            .replace("@TABLE@", table(settings))
            .replace("@SETTINGS@", hex(settings.fingerprint()))
            .replace("@WEIGHTS@", hex(weights))
            .replace("@BUILD@", hex(build))
            .replace("@HERTZ@", hertz(settings.sensedHertz()))
            .replace("@COUNT@", Integer.toString(settings.sensedHertz().length))
            .replace("@DATA@", data.settings())
            .replace("@CONTROLLER@", names.address(controller))
            .replace("@IN@", names.address(in))
            .replace("@OUT@", names.address(out))
            .replace("@CANAL@", learns ? canal(program, names, canal) : "");
    Map<String, String> all = new LinkedHashMap<>();
    all.put("stopwell.h", header);
    all.put("stopwell.c", code);
    all.put("stopwell_model.h", model);
    all.put("stopwell_settings.c", constants);
    all.put("stopwell_memory.c", resource("stopwell_memory.c"));
    all.put("run_vectors.c", resource("run_vectors.c"));
    all.put("Makefile", resource("Makefile"));
    all.put("README.md", resource("README.md"));
    return new Firmware(all, settings.fingerprint(), weights, build);
  }

  private static String canal(Names names) {
    return resource("canal.c")
        .replace("@RECALL@", names.method(RECALL.get(0)))
        .replace("@WILD@", names.method(RECALL.get(1)));
  }

  private static String canal(Program program, Names names, LearnedCanal canal) {
    Object estimate =
        program.all().objects().stream()
            .filter(DepthEstimate.class::isInstance)
            .findFirst()
            .orElseThrow();
    return "void *const stopwell_frame_canal = "
        + names.address(canal)
        + ";\nvoid *const stopwell_estimate = "
        + names.address(estimate)
        + ";\n";
  }

  private static void refuseOwnPolicies(ControllerSettings settings) throws FirmwareException {
    PolicyTables known = PolicyTables.BUILT_IN;
    Map<String, List<String>> built =
        Map.of(
            PolicyTables.SENSING,
            List.copyOf(known.sensing().keySet()),
            PolicyParameters.SECTION + "." + PolicyParameters.STOPPING,
            known.stopping(),
            PolicyParameters.SECTION + "." + PolicyParameters.TORQUE,
            known.torque(),
            PolicyParameters.SECTION + "." + PolicyParameters.TRUST,
            known.trust());
    for (Map.Entry<String, String> chosen : settings.chosen().entrySet()) {
      List<String> names = built.getOrDefault(chosen.getKey(), List.of());
      if (!names.contains(chosen.getValue())) {
        throw new FirmwareException(
            chosen.getKey()
                + ": "
                + chosen.getValue()
                + " is not a built-in policy, and only these become firmware; choose one of "
                + String.join(", ", names));
      }
    }
  }

  /** Every setting as it is in the controller, as a comment. */
  private static String table(ControllerSettings settings) {
    StringBuilder text = new StringBuilder();
    settings
        .written()
        .forEach(
            (name, table) -> {
              for (Parameter p : table.parameters()) {
                String value = p.human(settings.section(name).get(p));
                text.append(" *   ").append(name).append(".").append(p.key()).append(": ");
                text.append(value.replace("*/", "* /")).append("\n");
              }
            });
    return text.toString().stripTrailing();
  }

  private static String hertz(int[] hertz) {
    List<String> all = new ArrayList<>();
    for (int each : hertz) {
      all.add(Integer.toString(each));
    }
    return all.isEmpty() ? "0" : String.join(", ", all);
  }

  private static String codes() {
    StringBuilder text = new StringBuilder();
    List<Enum<?>[]> all =
        List.of(
            PositionKind.values(),
            Stage.values(),
            Drive.values(),
            State.values(),
            Trust.values(),
            Cause.values(),
            Reason.values());
    for (Enum<?>[] values : all) {
      String type =
          values[0]
              .getDeclaringClass()
              .getSimpleName()
              .replaceAll("([a-z])([A-Z])", "$1_$2")
              .toUpperCase(Locale.ROOT);
      text.append("enum {\n");
      for (Enum<?> each : values) {
        text.append("  STOPWELL_").append(type).append("_").append(each.name());
        text.append(" = ").append(each.ordinal());
        text.append(each.ordinal() < values.length - 1 ? ",\n" : "\n");
      }
      text.append("};\n");
    }
    return text.toString();
  }

  private static String hex(long value) {
    return "UINT64_C(0x" + String.format(Locale.ROOT, "%016x", value) + ")";
  }

  /** FNV-1a, 64 bits (IETF draft-eastlake-fnv), over the bytes of a text. */
  private static long fnv(String text) {
    long hash = 0xcbf29ce484222325L;
    for (byte each : text.getBytes(StandardCharsets.UTF_8)) {
      hash = (hash ^ (each & 0xff)) * 0x100000001b3L;
    }
    return hash;
  }

  static String resource(String name) {
    try (InputStream file = Firmware.class.getResourceAsStream(name)) {
      return new String(Objects.requireNonNull(file).readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static List<Field> fields(Class<?> frame) {
    List<Field> fields = new ArrayList<>();
    for (Field field : frame.getDeclaredFields()) {
      if (!Modifier.isStatic(field.getModifiers())) {
        fields.add(field);
      }
    }
    return fields;
  }
}
