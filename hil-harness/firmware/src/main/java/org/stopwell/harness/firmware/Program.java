package org.stopwell.harness.firmware;

import java.lang.reflect.Field;
import java.lang.reflect.Modifier;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;

/**
 * What some methods reach from some objects, and nothing else: methods, fields and objects. A call
 * through an interface reaches the classes of the objects that are there.
 */
final class Program {
  private static final Comparator<Field> BY_NAME =
      Comparator.comparing((Field f) -> f.getDeclaringClass().getName())
          .thenComparing(Field::getName);

  private final ClassFiles files;
  private final List<Object> roots;
  private final SortedMap<Method, MethodNode> methods = new TreeMap<>();
  private final SortedSet<Field> fields = new TreeSet<>(BY_NAME);
  private final SortedSet<Field> written = new TreeSet<>(BY_NAME);
  private final SortedSet<Field> statics = new TreeSet<>(BY_NAME);
  private Snapshot constants;
  private Snapshot all;
  private final Map<MethodInsnNode, SortedMap<String, Method>> targets = new HashMap<>();
  private SortedSet<String> types = new TreeSet<>();

  Program(ClassFiles files, List<Object> roots, List<Method> entries, List<Field> frames) {
    this.files = files;
    this.roots = roots;
    fields.addAll(frames);
    written.addAll(frames);
    entries.forEach(entry -> methods.put(entry, files.body(entry)));
    constants = new Snapshot(fields);
    all = constants;
    int before = -1;
    while (before != size()) {
      before = size();
      look();
      List.copyOf(methods.values()).forEach(this::scan);
    }
    for (Field field : statics) {
      if (written.contains(field)) {
        throw new IllegalStateException(field + " is written by a step");
      }
    }
  }

  private int size() {
    return methods.size() + fields.size() + written.size() + statics.size() + all.objects().size();
  }

  private void look() {
    constants = new Snapshot(fields);
    all = new Snapshot(fields);
    for (Field field : statics) {
      Object value = ClassFiles.value(field, null);
      if (!field.getType().isPrimitive() && value != null) {
        constants.add(value, field.getName());
        all.add(value, field.getName());
      }
    }
    for (Object root : roots) {
      all.add(root, root.getClass().getSimpleName());
    }
    targets.clear();
    types = new TreeSet<>();
    for (Object each : all.objects()) {
      if (!each.getClass().isArray()) {
        types.add(Type.getInternalName(each.getClass()));
      }
    }
  }

  private void scan(MethodNode method) {
    for (AbstractInsnNode each : method.instructions) {
      if (each instanceof FieldInsnNode access && ClassFiles.isOfCore(access.owner)) {
        Field field = ClassFiles.field(access.owner, access.name);
        (Modifier.isStatic(field.getModifiers()) ? statics : fields).add(field);
        if (access.getOpcode() == Opcodes.PUTFIELD || access.getOpcode() == Opcodes.PUTSTATIC) {
          written.add(field);
        }
      } else if (each instanceof MethodInsnNode call) {
        targets(call).values().forEach(m -> methods.computeIfAbsent(m, files::body));
      }
    }
  }

  /**
   * The methods of the core that a call may reach.
   *
   * @return by the class of the object, with slashes; by the empty text where it does not depend on
   *     the object; none for a call of the Java library
   */
  SortedMap<String, Method> targets(MethodInsnNode call) {
    return targets.computeIfAbsent(call, this::find);
  }

  private SortedMap<String, Method> find(MethodInsnNode call) {
    SortedMap<String, Method> targets = new TreeMap<>();
    if (!ClassFiles.isOfCore(call.owner) || isThrown(call.owner)) {
      return targets;
    }
    Method called = new Method(call.owner, call.name, call.desc);
    if (call.getOpcode() == Opcodes.INVOKESTATIC || call.getOpcode() == Opcodes.INVOKESPECIAL) {
      files.resolve(called).ifPresent(m -> targets.put("", m));
      return targets;
    }
    Class<?> owner = ClassFiles.load(call.owner);
    for (String type : types()) {
      if (owner.isAssignableFrom(ClassFiles.load(type))) {
        Optional<Method> found = files.resolve(new Method(type, call.name, call.desc));
        found.ifPresent(m -> targets.put(type, m));
      }
    }
    if (Set.copyOf(targets.values()).size() == 1) {
      Method only = targets.get(targets.firstKey());
      targets.clear();
      targets.put("", only);
    }
    return targets;
  }

  static boolean isThrown(String internalName) {
    return Throwable.class.isAssignableFrom(ClassFiles.load(internalName));
  }

  /** The classes of all objects, with slashes. */
  SortedSet<String> types() {
    return types;
  }

  ClassFiles files() {
    return files;
  }

  Map<Method, MethodNode> methods() {
    return methods;
  }

  SortedSet<Field> fields() {
    return fields;
  }

  SortedSet<Field> written() {
    return written;
  }

  SortedSet<Field> statics() {
    return statics;
  }

  /** Objects that do not depend on settings: those that are reached from static fields. */
  Snapshot constants() {
    return constants;
  }

  /** All objects, those that do not depend on settings first. */
  Snapshot all() {
    return all;
  }

  /** Every method that a method calls. */
  List<Method> calls(MethodNode method) {
    List<Method> calls = new ArrayList<>();
    for (AbstractInsnNode each : method.instructions) {
      if (each instanceof MethodInsnNode call) {
        calls.addAll(targets(call).values());
      }
    }
    return calls;
  }
}
