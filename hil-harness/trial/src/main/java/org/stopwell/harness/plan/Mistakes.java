package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/** Gathers the mistakes of one file; the same mistake found twice counts once. */
final class Mistakes {
  /** Mistakes that are listed; the others are counted. Assumed: more than anybody reads. */
  static final int MOST = 100;

  private final String file;
  private final Set<Mistake> found = new LinkedHashSet<>();

  Mistakes(String file) {
    this.file = file;
  }

  void add(int line, String key, String message) {
    found.add(new Mistake(file, line, key, message));
  }

  void addAll(List<Mistake> others) {
    found.addAll(others);
  }

  boolean isEmpty() {
    return found.isEmpty();
  }

  List<Mistake> all() {
    List<Mistake> sorted =
        new ArrayList<>(
            found.stream()
                .sorted(Comparator.comparing(Mistake::file).thenComparing(Mistake::line))
                .limit(MOST)
                .toList());
    if (found.size() > MOST) {
      sorted.add(new Mistake(file, 0, "", "and " + (found.size() - MOST) + " more mistakes"));
    }
    return List.copyOf(sorted);
  }

  PlanException asException() {
    return new PlanException(all());
  }

  void throwIfAny() throws PlanException {
    if (!found.isEmpty()) {
      throw asException();
    }
  }
}
