package org.stopwell.harness.firmware;

import java.util.HashSet;
import java.util.Set;

/**
 * Refuses methods that call themselves, however long the way: a board has a stack of fixed size.
 */
final class Recursion {
  private final Program program;
  private final Set<Method> done = new HashSet<>();
  private final Set<Method> open = new HashSet<>();

  private Recursion(Program program) {
    this.program = program;
  }

  static void refuse(Program program) {
    Recursion recursion = new Recursion(program);
    program.methods().keySet().forEach(recursion::visit);
  }

  private void visit(Method method) {
    if (open.contains(method)) {
      throw new IllegalStateException(method + " calls itself, which a step must not do");
    }
    if (done.add(method)) {
      open.add(method);
      program.calls(program.files().body(method)).forEach(this::visit);
      open.remove(method);
    }
  }
}
