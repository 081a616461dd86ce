package org.stopwell.harness.firmware;

import java.lang.reflect.Field;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Set;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;

/** Which objects a step may change: those need RAM, all others stay in flash. */
final class Constness {
  private final Program program;
  private final Set<Object> changed = Collections.newSetFromMap(new IdentityHashMap<>());

  Constness(Program program, List<Object> frames) {
    this.program = program;
    Set<Class<?>> stored = Collections.newSetFromMap(new IdentityHashMap<>());
    for (MethodNode method : program.methods().values()) {
      for (AbstractInsnNode each : method.instructions) {
        switch (each.getOpcode()) {
          case Opcodes.IASTORE -> stored.add(int.class);
          case Opcodes.LASTORE -> stored.add(long.class);
          case Opcodes.FASTORE -> stored.add(float.class);
          case Opcodes.DASTORE -> stored.add(double.class);
          case Opcodes.BASTORE -> {
            stored.add(byte.class);
            stored.add(boolean.class);
          }
          case Opcodes.AASTORE -> stored.add(Object.class);
          default -> {
            if (each instanceof MethodInsnNode call && call.name.equals("arraycopy")) {
              stored.add(double.class);
              stored.add(int.class);
            }
          }
        }
      }
    }
    Snapshot given = new Snapshot(Set.copyOf(program.fields()));
    frames.forEach(frame -> given.add(frame, "frame"));
    for (Object object : program.all().objects()) {
      Class<?> type = object.getClass();
      boolean changes =
          type.isArray()
              ? !program.constants().holds(object)
                  && stored.contains(
                      type.getComponentType().isPrimitive()
                          ? type.getComponentType()
                          : Object.class)
              : isWritten(type);
      if (changes || (given.holds(object) && !program.constants().holds(object))) {
        changed.add(object);
      }
    }
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
}
