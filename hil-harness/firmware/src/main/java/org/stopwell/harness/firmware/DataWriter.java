package org.stopwell.harness.firmware;

import java.lang.reflect.Array;
import java.lang.reflect.Field;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;
import org.objectweb.asm.Type;

/** Writes classes as structures, and objects as constants and as one block of memory. */
final class DataWriter {
  private static final int LINE = 96;

  private final Program program;
  private final Names names;
  private final List<Object> constants = new ArrayList<>();
  private final List<Object> fixed = new ArrayList<>();
  private final List<Object> changing = new ArrayList<>();

  DataWriter(Program program, Names names, Constness constness) {
    this.program = program;
    this.names = names;
    for (Field field : program.statics()) {
      Object value = ClassFiles.value(field, null);
      if (value != null && !field.getType().isPrimitive()) {
        names.name(
            value,
            names.type(Type.getInternalName(field.getDeclaringClass())) + "_" + names.field(field));
      }
    }
    for (Object each : program.all().objects()) {
      if (program.constants().holds(each)) {
        if (constness.isChanged(each)) {
          throw new IllegalStateException(
              "a step changes an object of " + each.getClass() + " that a static field holds");
        }
        names.name(each, "constant_" + kind(each));
        constants.add(each);
      } else {
        (constness.isChanged(each) ? changing : fixed).add(each);
      }
    }
    fixed.forEach(each -> names.name(each, "fixed_" + kind(each)));
    changing.forEach(each -> names.name(each, "stopwell_ram." + kind(each)));
  }

  private String kind(Object object) {
    Class<?> type = object.getClass();
    return type.isArray() ? element(object) + "s" : names.type(Type.getInternalName(type));
  }

  private static String element(Object array) {
    Class<?> type = array.getClass().getComponentType();
    return type.isPrimitive() ? type.getName() : "reference";
  }

  private static String storage(Object array) {
    String storage = Names.storage(Type.getType(array.getClass().getComponentType()));
    return storage.endsWith("*") ? storage : storage + " ";
  }

  private String structure(Object object) {
    if (object.getClass().isArray()) {
      return "struct " + element(object) + "s_" + room(object);
    }
    return "struct " + names.type(Type.getInternalName(object.getClass()));
  }

  private static int room(Object array) {
    return Math.max(1, Array.getLength(array));
  }

  /** Structures of all classes, and of arrays of every length. */
  String structures() {
    StringBuilder text = new StringBuilder("enum {\n  TYPE_NONE = 0,\n");
    int number = 1;
    for (String type : program.types()) {
      text.append("  TYPE_").append(names.type(type)).append(" = ").append(number++).append(",\n");
    }
    text.append("};\n\nstruct Object { int32_t type; };\n");
    text.append("struct Enum { struct Object base; int32_t ordinal; };\n");
    List<Class<?>> done = new ArrayList<>(List.of(Object.class, Enum.class));
    TreeSet<String> types = new TreeSet<>(program.types());
    program.fields().forEach(f -> types.add(Type.getInternalName(f.getDeclaringClass())));
    types.forEach(type -> structure(ClassFiles.load(type), done, text));
    return text.toString();
  }

  private void structure(Class<?> type, List<Class<?>> done, StringBuilder text) {
    Class<?> above = type.getSuperclass();
    if (done.contains(type) || above == null) {
      return;
    }
    done.add(type);
    structure(above, done, text);
    text.append("struct ").append(names.type(Type.getInternalName(type))).append(" {\n");
    text.append("  struct ").append(base(above)).append(" base;\n");
    for (Field field : Snapshot.fieldsOf(type, program.fields())) {
      if (field.getDeclaringClass().equals(type)) {
        String storage = Names.storage(Type.getType(field.getType()));
        text.append("  ").append(storage).append(storage.endsWith("*") ? "" : " ");
        text.append(names.field(field)).append(";\n");
      }
    }
    text.append("};\n");
  }

  private String base(Class<?> above) {
    if (above.equals(Object.class) || above.equals(Enum.class)) {
      return above.getSimpleName();
    }
    return names.type(Type.getInternalName(above));
  }

  private String arrays(List<Object> objects) {
    TreeSet<String> lines = new TreeSet<>();
    for (Object each : objects) {
      if (each.getClass().isArray()) {
        lines.add(
            structure(each)
                + " { int32_t length[2]; "
                + storage(each)
                + "data["
                + room(each)
                + "]; };\n");
      }
    }
    return String.join("", lines);
  }

  /** Declares the constants that do not depend on settings. */
  String declaredConstants() {
    StringBuilder text = new StringBuilder(arrays(constants));
    for (Object each : constants) {
      text.append("extern const ").append(structure(each)).append(" ");
      text.append(names.object(each)).append(";\n");
    }
    return text.toString();
  }

  /** Defines the constants that do not depend on settings. */
  String constants() {
    StringBuilder text = new StringBuilder();
    constants.forEach(each -> define("const ", each, text));
    return text.toString();
  }

  private void define(String before, Object object, StringBuilder text) {
    text.append(before).append(structure(object)).append(" ").append(names.object(object));
    text.append(" = ").append(value(object)).append(";\n");
  }

  /** Defines all that depends on settings: constants, and the memory with its first content. */
  String settings() {
    List<Object> own = new ArrayList<>(fixed);
    own.addAll(changing);
    own.removeIf(each -> each.getClass().isArray() && isDeclared(each));
    StringBuilder text = new StringBuilder(arrays(own));
    text.append("\nstruct stopwell_ram {\n");
    for (Object each : changing) {
      text.append("  ").append(structure(each)).append(" ").append(member(each)).append(";\n");
    }
    text.append("};\nstatic struct stopwell_ram stopwell_ram;\n\n");
    for (Object each : fixed) {
      text.append("static const ").append(structure(each)).append(" ");
      text.append(names.object(each)).append(";\n");
    }
    fixed.forEach(each -> define("static const ", each, text));
    text.append("\nstatic const struct stopwell_ram stopwell_power_on = {\n");
    for (Object each : changing) {
      text.append("  .").append(member(each)).append(" = ").append(value(each)).append(",\n");
    }
    return text.append("};\n").toString();
  }

  private boolean isDeclared(Object array) {
    return constants.stream()
        .anyMatch(c -> c.getClass().isArray() && structure(c).equals(structure(array)));
  }

  private String member(Object object) {
    return names.object(object).substring("stopwell_ram.".length());
  }

  private String value(Object object) {
    return object.getClass().isArray() ? array(object) : object(object, object.getClass());
  }

  private String array(Object array) {
    int length = Array.getLength(array);
    StringBuilder text = new StringBuilder("{{").append(length).append("}, {");
    int line = 0;
    for (int i = 0; i < length; i++) {
      String next = plain(Array.get(array, i), array.getClass().getComponentType()) + ", ";
      line += next.length();
      if (line > LINE) {
        text.append("\n    ");
        line = next.length();
      }
      text.append(next);
    }
    return text.append(length == 0 ? "0" : "").append("}}").toString();
  }

  private String plain(Object value, Class<?> type) {
    return type.isPrimitive() ? Names.literal(value) : names.address(value);
  }

  private String object(Object object, Class<?> type) {
    Class<?> above = type.getSuperclass();
    StringBuilder text = new StringBuilder("{");
    if (above == null || above.equals(Object.class)) {
      text.append("{TYPE_").append(names.type(Type.getInternalName(object.getClass()))).append("}");
    } else if (above.equals(Enum.class)) {
      text.append("{{TYPE_").append(names.type(Type.getInternalName(object.getClass())));
      text.append("}, ").append(((Enum<?>) object).ordinal()).append("}");
    } else {
      text.append(object(object, above));
    }
    for (Field field : Snapshot.fieldsOf(type, program.fields())) {
      if (field.getDeclaringClass().equals(type)) {
        Object value = ClassFiles.value(field, object);
        text.append(", ");
        text.append(field.getType().isPrimitive() ? Names.literal(value) : names.address(value));
      }
    }
    return text.append("}").toString();
  }
}
