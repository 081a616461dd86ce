package org.stopwell.harness.tryout;

/** One object in JSON, member by member. Text holds no characters that JSON escapes. */
final class JsonText {
  private final StringBuilder out = new StringBuilder("{");

  /** Adds a number or an object that is written already. */
  JsonText raw(String key, String value) {
    out.append(out.length() > 1 ? "," : "").append('"').append(key).append("\":").append(value);
    return this;
  }

  /** Adds a whole number. */
  JsonText number(String key, long value) {
    return raw(key, Long.toString(value));
  }

  /** Adds a whole number, or null where there is none. */
  JsonText numberIf(boolean present, String key, long value) {
    return raw(key, present ? Long.toString(value) : "null");
  }

  /** Adds a word. */
  JsonText word(String key, Enum<?> value) {
    return raw(key, '"' + value.name() + '"');
  }

  /** Ends the object. */
  String end() {
    return out.append('}').toString();
  }
}
