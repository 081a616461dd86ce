package org.stopwell.harness.plan;

import java.util.List;
import java.util.stream.Collectors;

/** A plan or settings file that cannot be used, with every mistake found. */
public final class PlanException extends Exception {
  private static final long serialVersionUID = 1L;

  private final transient List<Mistake> mistakes;

  /**
   * All mistakes at once.
   *
   * @param mistakes at least one
   */
  public PlanException(List<Mistake> mistakes) {
    super(mistakes.stream().map(Mistake::toString).collect(Collectors.joining("\n")));
    this.mistakes = List.copyOf(mistakes);
  }

  /**
   * Every mistake found.
   *
   * @return at least one
   */
  public List<Mistake> mistakes() {
    return mistakes;
  }
}
