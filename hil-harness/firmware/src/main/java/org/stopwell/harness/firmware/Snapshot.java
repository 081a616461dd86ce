package org.stopwell.harness.firmware;

import java.lang.reflect.Array;
import java.lang.reflect.Field;
import java.util.ArrayList;
import java.util.Collection;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.Type;

/** The objects that can be reached from some roots through some fields, in a fixed order. */
final class Snapshot {
  /** Fields that count. Through all others nothing is reached. */
  private final Set<Field> fields;

  private final IdentityHashMap<Object, Integer> order = new IdentityHashMap<>();
  private final List<Object> objects = new ArrayList<>();

  Snapshot(Set<Field> fields) {
    this.fields = fields;
  }

  void add(Object root, String place) {
    if (order.putIfAbsent(root, objects.size()) != null) {
      return;
    }
    objects.add(root);
    Class<?> type = root.getClass();
    if (type.isArray()) {
      for (int i = 0; !type.getComponentType().isPrimitive() && i < Array.getLength(root); i++) {
        next(Array.get(root, i), place + "[" + i + "]");
      }
      return;
    }
    if (!ClassFiles.isOfCore(Type.getInternalName(type)) || type.isHidden()) {
      throw new IllegalStateException(
          place + " holds " + type.getName() + ", which is no class of the control core");
    }
    for (Field field : fieldsOf(type, fields)) {
      if (!field.getType().isPrimitive()) {
        next(ClassFiles.value(field, root), place + "." + field.getName());
      }
    }
  }

  private void next(@Nullable Object value, String place) {
    if (value != null) {
      add(value, place);
    }
  }

  /** The fields of a class that count, the inherited ones first. */
  static List<Field> fieldsOf(Class<?> type, Collection<Field> counting) {
    List<Field> all = new ArrayList<>();
    Class<?> above = type.getSuperclass();
    if (above != null) {
      all.addAll(fieldsOf(above, counting));
    }
    for (Field field : type.getDeclaredFields()) {
      if (counting.contains(field)) {
        field.setAccessible(true);
        all.add(field);
      }
    }
    return all;
  }

  List<Object> objects() {
    return objects;
  }

  boolean holds(Object value) {
    return order.containsKey(value);
  }
}
