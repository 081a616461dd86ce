package org.stopwell.harness.firmware;

import java.lang.reflect.Field;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.Type;

/** The names of classes, methods, fields and objects in C. */
final class Names {
  /** Words that C reserves and Java does not. */
  private static final Set<String> RESERVED =
      Set.of(
          "auto",
          "extern",
          "inline",
          "register",
          "restrict",
          "signed",
          "sizeof",
          "struct",
          "typedef",
          "union",
          "unsigned");

  private final Map<String, String> classOfName = new HashMap<>();
  private final Map<Method, String> methods = new HashMap<>();
  private final Map<String, Integer> taken = new HashMap<>();
  private final IdentityHashMap<Object, String> objects = new IdentityHashMap<>();

  /** The structure of a class: its name without package. */
  String type(String internalName) {
    String name = internalName.substring(internalName.lastIndexOf('/') + 1).replace('$', '_');
    String owner = classOfName.putIfAbsent(name, internalName);
    if (owner != null && !owner.equals(internalName)) {
      throw new IllegalStateException(owner + " and " + internalName + " have one name");
    }
    return name;
  }

  String method(Method method) {
    return methods.computeIfAbsent(
        method, m -> unique(type(m.owner()) + "_" + m.name().replaceAll("[^A-Za-z0-9]", "_")));
  }

  private String unique(String name) {
    int count = taken.merge(name, 1, Integer::sum);
    return count == 1 ? name : name + "_" + count;
  }

  String field(Field field) {
    String name = field.getName().replace('$', '_');
    return RESERVED.contains(name) ? name + "_" : name;
  }

  /** Gives an object the name that is asked for, or one with a number behind it. */
  void name(Object object, String wanted) {
    objects.computeIfAbsent(object, o -> unique(wanted));
  }

  /** What an object is called in C where memory is not shared with another name. */
  String object(Object object) {
    String name = objects.get(object);
    if (name == null) {
      throw new IllegalStateException("an object of " + object.getClass() + " has no name");
    }
    return name;
  }

  /** A value that refers to an object or an array. */
  String address(@Nullable Object object) {
    if (object == null) {
      return "NULL";
    }
    return object.getClass().isArray()
        ? "(void *)" + object(object) + ".data"
        : "(void *)&" + object(object);
  }

  /** The type of a value in memory. */
  static String storage(Type type) {
    return switch (type.getSort()) {
      case Type.BOOLEAN, Type.BYTE -> "int8_t";
      case Type.SHORT -> "int16_t";
      case Type.CHAR -> "uint16_t";
      case Type.INT -> "int32_t";
      case Type.LONG -> "int64_t";
      case Type.FLOAT -> "float";
      case Type.DOUBLE -> "double";
      case Type.VOID -> "void";
      default -> "void *";
    };
  }

  /** The type of a value in a variable: what is smaller than 32 bits has 32 bits there. */
  static String variable(Type type) {
    return switch (type.getSort()) {
      case Type.BOOLEAN, Type.BYTE, Type.SHORT, Type.CHAR -> "int32_t";
      default -> storage(type);
    };
  }

  /** A letter for the type of a variable. */
  static char letter(Type type) {
    return switch (type.getSort()) {
      case Type.BOOLEAN, Type.BYTE, Type.SHORT, Type.CHAR, Type.INT -> 'i';
      case Type.LONG -> 'l';
      case Type.FLOAT -> 'f';
      case Type.DOUBLE -> 'd';
      default -> 'a';
    };
  }

  /** The type of a variable by its {@link #letter}. */
  static String ofLetter(char letter) {
    return switch (letter) {
      case 'i' -> "int32_t ";
      case 'l' -> "int64_t ";
      case 'f' -> "float ";
      case 'd' -> "double ";
      default -> "void *";
    };
  }

  /** A number as a constant of C. */
  static String literal(@Nullable Object value) {
    if (value instanceof Boolean flag) {
      return flag ? "1" : "0";
    }
    if (value instanceof Character letter) {
      return Integer.toString(letter);
    }
    if (value instanceof Long number) {
      return number == Long.MIN_VALUE
          ? "(-INT64_C(9223372036854775807) - 1)"
          : "INT64_C(" + number + ")";
    }
    if (value instanceof Float number) {
      return real(number, "f");
    }
    if (value instanceof Double number) {
      return real(number, "");
    }
    if (value instanceof Number number) {
      return number.intValue() == Integer.MIN_VALUE
          ? "(-INT32_C(2147483647) - 1)"
          : Integer.toString(number.intValue());
    }
    throw new IllegalStateException(value + " is no number");
  }

  private static String real(double value, String ending) {
    if (Double.isNaN(value)) {
      return "__builtin_nan" + ending + "(\"\")";
    }
    if (Double.isInfinite(value)) {
      return (value < 0 ? "-" : "") + "__builtin_inf" + ending + "()";
    }
    return Double.toHexString(value) + ending;
  }
}
