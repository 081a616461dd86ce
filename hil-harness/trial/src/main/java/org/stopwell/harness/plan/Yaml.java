package org.stopwell.harness.plan;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** A YAML document with the line of everything in it. */
sealed interface Yaml {
  /** Line in the file, from 1. */
  int line();

  /** What a YAML scalar is. */
  enum Sort {
    NUMBER,
    FLAG,
    TEXT,
    NOTHING
  }

  /** A value without parts, as it was written. */
  record Scalar(String text, Sort sort, int line) implements Yaml {}

  /** A list. */
  record Items(List<Yaml> items, int line) implements Yaml {}

  /** Keys with values, in the order of the file. */
  record Mapping(Map<String, Entry> entries, int line) implements Yaml {
    static Mapping empty(int line) {
      return new Mapping(new LinkedHashMap<>(), line);
    }
  }

  /** A key's own line and its value. */
  record Entry(int line, Yaml value) {}

  /** The name in a message. */
  default String word() {
    if (this instanceof Scalar scalar) {
      return scalar.sort() == Sort.NOTHING ? "nothing" : scalar.text();
    }
    return this instanceof Items ? "a list" : "a group of keys";
  }

  /** What is wrong with a value that is of another sort, such as "16 is not a list". */
  default String notA(String wanted) {
    boolean empty = this instanceof Scalar scalar && scalar.sort() == Sort.NOTHING;
    return empty ? "is empty; write " + wanted : word() + " is not " + wanted;
  }
}
