package org.stopwell.harness.firmware;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.lang.reflect.Field;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.MethodNode;
import org.stopwell.core.StopController;

/** The class files of the control core, each read once. */
final class ClassFiles {
  private static final String CORE = "org/stopwell/core/";

  private static final Map<String, Class<?>> CLASSES = new ConcurrentHashMap<>();
  private static final Map<String, Field> FIELDS = new ConcurrentHashMap<>();

  private final Map<String, ClassNode> nodes = new HashMap<>();

  /** Whether a class belongs to the control core; all others are of the Java library. */
  static boolean isOfCore(String internalName) {
    return internalName.startsWith(CORE);
  }

  ClassNode node(String internalName) {
    return nodes.computeIfAbsent(internalName, ClassFiles::read);
  }

  private static ClassNode read(String internalName) {
    try (InputStream file =
        StopController.class.getResourceAsStream("/" + internalName + ".class")) {
      if (file == null) {
        throw new IllegalStateException(internalName + ": no class file");
      }
      ClassNode node = new ClassNode();
      new ClassReader(file.readAllBytes()).accept(node, ClassReader.SKIP_DEBUG);
      return node;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static Class<?> load(String internalName) {
    return CLASSES.computeIfAbsent(internalName, ClassFiles::loaded);
  }

  private static Class<?> loaded(String internalName) {
    try {
      return Class.forName(
          internalName.replace('/', '.'), true, StopController.class.getClassLoader());
    } catch (ClassNotFoundException e) {
      throw new IllegalStateException(e);
    }
  }

  /** The method that a call reaches: in the class itself, above it, or in an interface of it. */
  Optional<Method> resolve(Method called) {
    for (String owner = called.owner(); owner != null && isOfCore(owner); owner = above(owner)) {
      if (body(owner, called) != null) {
        return Optional.of(new Method(owner, called.name(), called.descriptor()));
      }
    }
    for (String owner = called.owner(); owner != null && isOfCore(owner); owner = above(owner)) {
      for (String next : node(owner).interfaces) {
        Optional<Method> found =
            isOfCore(next)
                ? resolve(new Method(next, called.name(), called.descriptor()))
                : Optional.empty();
        if (found.isPresent()) {
          return found;
        }
      }
    }
    return Optional.empty();
  }

  private @Nullable String above(String owner) {
    return node(owner).superName;
  }

  private @Nullable MethodNode body(String owner, Method method) {
    for (MethodNode each : node(owner).methods) {
      if (each.name.equals(method.name())
          && each.desc.equals(method.descriptor())
          && each.instructions.size() > 0) {
        return each;
      }
    }
    return null;
  }

  /** The instructions of a method that was {@link #resolve resolved}. */
  MethodNode body(Method method) {
    MethodNode body = body(method.owner(), method);
    if (body == null) {
      throw new IllegalStateException(method + " has no instructions");
    }
    return body;
  }

  /** The field that an instruction means: declared in the class itself or above it. */
  static Field field(String owner, String name) {
    return FIELDS.computeIfAbsent(owner + "." + name, f -> found(owner, name));
  }

  private static Field found(String owner, String name) {
    for (Class<?> each = load(owner); each != null; each = each.getSuperclass()) {
      for (Field field : each.getDeclaredFields()) {
        if (field.getName().equals(name)) {
          field.setAccessible(true);
          return field;
        }
      }
    }
    throw new IllegalStateException(owner + "." + name + ": no such field");
  }

  static @Nullable Object value(Field field, @Nullable Object of) {
    try {
      return field.get(of);
    } catch (IllegalAccessException e) {
      throw new IllegalStateException(e);
    }
  }
}
