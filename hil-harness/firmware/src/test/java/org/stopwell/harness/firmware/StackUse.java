package org.stopwell.harness.firmware;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The deepest stack of a function, from the call graph that gcc writes (-fcallgraph-info=su). */
final class StackUse {
  /** For a function of the compiler's own library, which gcc does not count, bytes; assumed. */
  static final int LIBRARY_BYTES = 128;

  private static final Pattern NODE =
      Pattern.compile(
          "node: \\{ title: \"([^\"]+)\" label: \"[^\"]*?(?:\\\\n(\\d+) bytes \\((\\w+)\\))?[^\"]*\"");
  private static final Pattern EDGE =
      Pattern.compile("edge: \\{ sourcename: \"([^\"]+)\" targetname: \"([^\"]+)\"");

  private final Map<String, Integer> bytes = new HashMap<>();
  private final Map<String, Set<String>> calls = new HashMap<>();
  private final Set<String> open = new HashSet<>();

  StackUse(String graph) {
    for (String line : graph.split("\n", -1)) {
      Matcher node = NODE.matcher(line);
      Matcher edge = EDGE.matcher(line);
      if (node.find()) {
        String size = node.group(2);
        if (size != null && !"static".equals(node.group(3))) {
          throw new AssertionError(line + ": the stack is not static");
        }
        bytes.put(node.group(1), size == null ? LIBRARY_BYTES : Integer.parseInt(size));
      } else if (edge.find()) {
        calls.computeIfAbsent(edge.group(1), c -> new TreeSet<>()).add(edge.group(2));
      }
    }
    if (bytes.containsKey("__indirect_call")) {
      throw new AssertionError("a call through a pointer has no known depth");
    }
  }

  /** Bytes below a function, with its own; refuses a function that calls itself. */
  int of(String function) {
    if (!open.add(function)) {
      throw new AssertionError(function + " calls itself");
    }
    int deepest = 0;
    for (String called : calls.getOrDefault(function, Set.of())) {
      deepest = Math.max(deepest, of(called));
    }
    open.remove(function);
    return bytes.getOrDefault(function, LIBRARY_BYTES) + deepest;
  }
}
