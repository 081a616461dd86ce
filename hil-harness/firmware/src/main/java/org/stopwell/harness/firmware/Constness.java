package org.stopwell.harness.firmware;

import java.lang.reflect.Array;
import java.lang.reflect.Field;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.InsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.VarInsnNode;
import org.objectweb.asm.tree.analysis.Analyzer;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.Frame;
import org.objectweb.asm.tree.analysis.SourceInterpreter;
import org.objectweb.asm.tree.analysis.SourceValue;

/**
 * Which objects a step may change: those need RAM, all others stay in flash.
 *
 * <p>An object of a class changes when a step writes a field of that class. An array changes when a
 * step stores into it: for every store, the arrays are followed back through fields, parameters,
 * results and elements of other arrays, over all paths (a points-to analysis by field, after
 * Andersen 1994). What is in doubt changes.
 */
final class Constness {
  /** A parameter of a method, where no instruction has made the value. */
  private static final class Parameter extends InsnNode {
    private final int local;

    Parameter(int local) {
      super(Opcodes.NOP);
      this.local = local;
    }
  }

  /** Follows values back to the instructions that made them. */
  private static final class Sources extends SourceInterpreter {
    Sources() {
      super(Opcodes.ASM9);
    }

    @Override
    public SourceValue newParameterValue(boolean isInstanceMethod, int local, Type type) {
      return new SourceValue(type.getSize(), new Parameter(local));
    }
  }

  /** A place that may hold arrays: a parameter of a method, or its result. */
  private record Place(Method method, int local) {
    static final int RESULT = -1;
  }

  private final Program program;
  private final Set<Object> changed = identities();
  private final Map<Method, Frame<SourceValue>[]> frames = new HashMap<>();
  private final Map<String, Set<Object>> fields = new HashMap<>();
  private final Map<Place, Set<Object>> places = new HashMap<>();
  private final IdentityHashMap<Object, Set<Object>> elements = new IdentityHashMap<>();
  private boolean grown = true;

  Constness(Program program, List<Object> frames) {
    this.program = program;
    Snapshot given = new Snapshot(Set.copyOf(program.fields()));
    frames.forEach(frame -> given.add(frame, "frame"));
    for (Object object : program.all().objects()) {
      boolean ofFrame = given.holds(object) && !program.constants().holds(object);
      if (ofFrame || (!object.getClass().isArray() && isWritten(object.getClass()))) {
        changed.add(object);
      }
    }
    begin();
    while (grown) {
      grown = false;
      program.methods().forEach(this::follow);
    }
  }

  private static Set<Object> identities() {
    return Collections.newSetFromMap(new IdentityHashMap<>());
  }

  private boolean isWritten(Class<?> type) {
    for (Field field : Snapshot.fieldsOf(type, program.fields())) {
      if (program.written().contains(field)) {
        return true;
      }
    }
    return false;
  }

  boolean isChanged(Object object) {
    return changed.contains(object);
  }

  /** What fields and arrays hold before the first step. */
  private void begin() {
    for (Field field : program.statics()) {
      hold(of(field), ClassFiles.value(field, null));
    }
    for (Object object : program.all().objects()) {
      Class<?> type = object.getClass();
      if (type.isArray()) {
        Set<Object> inside = elements.computeIfAbsent(object, o -> identities());
        for (int i = 0;
            !type.getComponentType().isPrimitive() && i < Array.getLength(object);
            i++) {
          hold(inside, Array.get(object, i));
        }
        continue;
      }
      for (Field field : Snapshot.fieldsOf(type, program.fields())) {
        hold(of(field), ClassFiles.value(field, object));
      }
    }
  }

  private static void hold(Set<Object> set, @Nullable Object value) {
    if (value != null && value.getClass().isArray()) {
      set.add(value);
    }
  }

  private Set<Object> of(Field field) {
    return fields.computeIfAbsent(
        field.getDeclaringClass().getName() + "." + field.getName(), f -> identities());
  }

  private Set<Object> of(Method method, int local) {
    return places.computeIfAbsent(new Place(method, local), p -> identities());
  }

  private void flow(Set<Object> from, Set<Object> to) {
    grown |= to.addAll(from);
  }

  private Frame<SourceValue>[] frames(Method method) {
    return frames.computeIfAbsent(
        method,
        m -> {
          try {
            return new Analyzer<>(new Sources()).analyze(m.owner(), program.files().body(m));
          } catch (AnalyzerException e) {
            throw new IllegalStateException(m + ": " + e.getMessage(), e);
          }
        });
  }

  private void follow(Method method, MethodNode node) {
    Frame<SourceValue>[] all = frames(method);
    for (int i = 0; i < all.length; i++) {
      AbstractInsnNode each = node.instructions.get(i);
      if (all[i] == null || each.getOpcode() < 0) {
        continue;
      }
      int opcode = each.getOpcode();
      int top = all[i].getStackSize();
      if (opcode == Opcodes.PUTFIELD && each instanceof FieldInsnNode put) {
        flow(arrays(method, i, top - 1), of(ClassFiles.field(put.owner, put.name)));
      } else if (opcode >= Opcodes.IASTORE && opcode <= Opcodes.SASTORE) {
        Set<Object> stored = arrays(method, i, top - 3);
        grown |= changed.addAll(stored);
        if (opcode == Opcodes.AASTORE) {
          Set<Object> values = arrays(method, i, top - 1);
          stored.forEach(array -> flow(values, elements.computeIfAbsent(array, a -> identities())));
        }
      } else if (opcode == Opcodes.ARETURN) {
        flow(arrays(method, i, top - 1), of(method, Place.RESULT));
      } else if (each instanceof MethodInsnNode call) {
        call(method, i, top, call);
      }
    }
  }

  private void call(Method method, int index, int top, MethodInsnNode call) {
    Type[] types = Type.getArgumentTypes(call.desc);
    boolean isStatic = call.getOpcode() == Opcodes.INVOKESTATIC;
    int place = top - types.length;
    int local = isStatic ? 0 : 1;
    if (call.owner.equals("java/lang/System") && call.name.equals("arraycopy")) {
      Set<Object> to = arrays(method, index, place + 2);
      grown |= changed.addAll(to);
      for (Object from : arrays(method, index, place)) {
        Set<Object> values = elements.computeIfAbsent(from, a -> identities());
        to.forEach(array -> flow(values, elements.computeIfAbsent(array, a -> identities())));
      }
      return;
    }
    List<Method> targets = new ArrayList<>(program.targets(call).values());
    for (Type type : types) {
      Set<Object> given = arrays(method, index, place);
      for (Method target : targets) {
        flow(given, of(target, local));
      }
      place++;
      local += type.getSize();
    }
  }

  /** The arrays that a place of the stack may hold before an instruction. */
  private Set<Object> arrays(Method method, int index, int place) {
    Set<Object> found = identities();
    collect(method, frames(method)[index].getStack(place), found, new HashSet<>());
    return found;
  }

  private void collect(
      Method method, SourceValue value, Set<Object> found, Set<AbstractInsnNode> seen) {
    MethodNode node = program.files().body(method);
    for (AbstractInsnNode each : value.insns) {
      if (!seen.add(each)) {
        continue;
      }
      if (each instanceof Parameter parameter) {
        found.addAll(of(method, parameter.local));
        continue;
      }
      int index = node.instructions.indexOf(each);
      Frame<SourceValue> frame = frames(method)[index];
      int top = frame.getStackSize();
      if (each instanceof FieldInsnNode get) {
        found.addAll(of(ClassFiles.field(get.owner, get.name)));
      } else if (each instanceof VarInsnNode variable && variable.getOpcode() == Opcodes.ALOAD) {
        collect(method, frame.getLocal(variable.var), found, seen);
      } else if (each.getOpcode() == Opcodes.AALOAD) {
        for (Object array : arrays(method, index, top - 2)) {
          found.addAll(elements.computeIfAbsent(array, a -> identities()));
        }
      } else if (each instanceof MethodInsnNode call && !program.targets(call).isEmpty()) {
        for (Method target : new TreeSet<>(program.targets(call).values())) {
          found.addAll(of(target, Place.RESULT));
        }
      } else if (each.getOpcode() != Opcodes.ACONST_NULL) {
        // moved on the stack, stored, cast, or handed through the Java library: any of what was
        // there
        for (int place = 0; place < top; place++) {
          collect(method, frame.getStack(place), found, seen);
        }
      }
    }
  }
}
