package org.stopwell.harness.casework;

import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.ParameterizedType;
import java.lang.reflect.RecordComponent;
import java.lang.reflect.Type;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JacksonException;
import tools.jackson.jr.ob.JSON;

/**
 * An entry as one JSON object: a key for every component of its record, in their order. Keys are
 * the names of the components in lower case with {@code _}, with the unit in short ({@code
 * length_um}).
 */
final class EntryText {
  /** Longest text of an entry, characters; assumed: three lines on a screen. */
  private static final int LONGEST_TEXT = 400;

  /** Units in names and in keys; the longer ones first. */
  private static final Map<String, String> UNITS = units();

  private static final String STEP = "step";

  private final List<String> mistakes = new ArrayList<>();

  private EntryText() {}

  /** An entry that was read, or what is wrong with it. */
  record Read(Optional<CaseEntry> entry, List<String> mistakes) {}

  private static Map<String, String> units() {
    Map<String, String> units = new LinkedHashMap<>();
    units.put("micro_newton_metres", "unm");
    units.put("microns", "um");
    units.put("nanolitres", "nl");
    return units;
  }

  /** Keys and values of an entry, the step first. */
  static Map<String, Object> values(CaseEntry entry) {
    Map<String, Object> values = new LinkedHashMap<>();
    values.put(STEP, entry.step().word());
    values.putAll(values((Record) entry));
    return values;
  }

  private static Map<String, Object> values(Record record) {
    Map<String, Object> values = new LinkedHashMap<>();
    for (RecordComponent component : record.getClass().getRecordComponents()) {
      Object value = value(component, record);
      if (value instanceof CaseStamp stamp) {
        values.putAll(values(stamp));
      } else if (value instanceof Optional<?> maybe) {
        maybe.ifPresent(inside -> values.put(key(component), plain(inside)));
      } else {
        values.put(key(component), plain(value));
      }
    }
    return values;
  }

  private static Object plain(Object value) {
    if (value instanceof Record inside) {
      return values(inside);
    }
    return value instanceof Enum<?> word ? word(word) : value;
  }

  private static Object value(RecordComponent component, Record record) {
    try {
      return component.getAccessor().invoke(record);
    } catch (IllegalAccessException | InvocationTargetException e) {
      throw new IllegalStateException(component.getName(), e);
    }
  }

  /** The entry as JSON in one line. */
  static String write(Map<String, Object> values) {
    return JSON.std.asString(values);
  }

  /** Reads a line that {@link #write} wrote; keys in {@code others} belong to the line. */
  static Read read(String json, Set<String> others) {
    Map<String, Object> values;
    try {
      values = JSON.std.mapFrom(json);
    } catch (JacksonException e) {
      return new Read(Optional.empty(), List.of("is not JSON"));
    }
    Object step = values.get(STEP);
    Optional<Class<?>> kind =
        Arrays.stream(CaseEntry.class.getPermittedSubclasses())
            .filter(k -> step instanceof String word && word.equals(stepOf(k)))
            .findFirst();
    if (kind.isEmpty()) {
      return new Read(
          Optional.empty(),
          List.of(
              STEP
                  + ": "
                  + step
                  + " is not one of "
                  + String.join(
                      ", ", Arrays.stream(CaseStep.values()).map(CaseStep::word).toList())));
    }
    EntryText reader = new EntryText();
    Set<String> unread = new LinkedHashSet<>(values.keySet());
    unread.removeAll(others);
    unread.remove(STEP);
    Record entry = reader.record(kind.get(), values, unread, "");
    unread.forEach(key -> reader.mistakes.add(key + ": unknown key"));
    return reader.mistakes.isEmpty()
        ? new Read(Optional.of((CaseEntry) entry), List.of())
        : new Read(Optional.empty(), reader.mistakes);
  }

  /** The step of a kind of entry: open for Opened. */
  private static String stepOf(Class<?> kind) {
    return switch (kind.getSimpleName()) {
      case "Opened" -> CaseStep.OPEN.word();
      case "Measured" -> CaseStep.MEASURE.word();
      case "Radiographed" -> CaseStep.RADIOGRAPH.word();
      case "Shaped" -> CaseStep.SHAPE.word();
      case "Rechecked" -> CaseStep.RECHECK.word();
      default -> CaseStep.FILL.word();
    };
  }

  private Record record(
      Class<?> kind, Map<String, Object> values, Set<String> unread, String path) {
    RecordComponent[] components = kind.getRecordComponents();
    @Nullable Object[] arguments = new Object[components.length];
    Class<?>[] types = new Class<?>[components.length];
    for (int i = 0; i < components.length; i++) {
      RecordComponent component = components[i];
      types[i] = component.getType();
      String key = key(component);
      if (types[i] == CaseStamp.class) {
        arguments[i] = record(types[i], values, unread, path);
        continue;
      }
      unread.remove(key);
      if (types[i] == Optional.class) {
        arguments[i] =
            values.containsKey(key)
                ? Optional.of(part(inside(component), values.get(key), path + key))
                : Optional.empty();
      } else if (values.containsKey(key)) {
        arguments[i] = part(types[i], values.get(key), path + key);
      } else {
        mistakes.add(path + key + ": missing");
        arguments[i] = nothing(types[i]);
      }
    }
    try {
      return (Record) kind.getDeclaredConstructor(types).newInstance(arguments);
    } catch (ReflectiveOperationException e) {
      throw new IllegalStateException(kind.getSimpleName(), e);
    }
  }

  private Object part(Class<?> type, @Nullable Object value, String key) {
    if (type == int.class && value instanceof Integer) {
      return value;
    }
    if (type == boolean.class && value instanceof Boolean) {
      return value;
    }
    if (type == String.class && value instanceof String text) {
      if (text.length() <= LONGEST_TEXT) {
        return text;
      }
      mistakes.add(
          key + ": has " + text.length() + " characters, must have at most " + LONGEST_TEXT);
      return "";
    }
    if (type.isEnum() && value instanceof String word) {
      for (Object constant : type.getEnumConstants()) {
        if (word((Enum<?>) constant).equals(word)) {
          return constant;
        }
      }
      mistakes.add(
          key
              + ": "
              + word
              + " is not one of "
              + String.join(
                      ",",
                      Arrays.stream(type.getEnumConstants())
                          .map(c -> " " + word((Enum<?>) c))
                          .toList())
                  .strip());
      return nothing(type);
    }
    if (type.isRecord() && value instanceof Map<?, ?> map) {
      Map<String, Object> values = new LinkedHashMap<>();
      map.forEach((k, v) -> values.put(String.valueOf(k), v));
      Set<String> unread = new LinkedHashSet<>(values.keySet());
      Record inside = record(type, values, unread, key + ".");
      unread.forEach(k -> mistakes.add(key + "." + k + ": unknown key"));
      return inside;
    }
    mistakes.add(
        key
            + ": "
            + (value instanceof Map ? "a group of keys" : value instanceof List ? "a list" : value)
            + " is not "
            + what(type));
    return nothing(type);
  }

  private static String what(Class<?> type) {
    if (type == int.class) {
      return "a whole number of at most " + Integer.MAX_VALUE;
    }
    if (type == boolean.class) {
      return "true or false";
    }
    return type.isRecord() ? "a group of keys" : "a text";
  }

  /** A value in place of one that is wrong; the entry is refused anyway. */
  private Object nothing(Class<?> type) {
    if (type == int.class) {
      return 0;
    }
    if (type == boolean.class) {
      return false;
    }
    if (type.isEnum()) {
      return type.getEnumConstants()[0];
    }
    if (type.isRecord()) {
      int known = mistakes.size();
      Record empty = record(type, Map.of(), new LinkedHashSet<>(), "");
      mistakes.subList(known, mistakes.size()).clear();
      return empty;
    }
    return "";
  }

  private static Class<?> inside(RecordComponent component) {
    Type argument = ((ParameterizedType) component.getGenericType()).getActualTypeArguments()[0];
    return (Class<?>) argument;
  }

  private static String word(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT);
  }

  private static String key(RecordComponent component) {
    StringBuilder key = new StringBuilder();
    for (char c : component.getName().toCharArray()) {
      key.append(Character.isUpperCase(c) ? "_" : "").append(Character.toLowerCase(c));
    }
    String full = key.toString();
    for (Map.Entry<String, String> unit : UNITS.entrySet()) {
      full = full.replace(unit.getKey(), unit.getValue());
    }
    return full;
  }
}
