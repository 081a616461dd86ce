package org.stopwell.harness.casework;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import org.stopwell.core.frame.Stage;

/** A step of the job, in the order of the work. */
public enum CaseStep {
  /** Opens the crown and middle thirds. */
  OPEN(Stage.OPEN),
  /** Measures the length. */
  MEASURE(Stage.LENGTH),
  /** Compares the length with a radiograph. */
  RADIOGRAPH(null),
  /** Shapes to a depth limit that comes from the length. */
  SHAPE(Stage.SHAPE),
  /** Measures again with a larger file. */
  RECHECK(Stage.RECHECK),
  /** Proposes the filling. */
  FILL(null);

  private final Optional<Stage> stage;

  CaseStep(@org.jspecify.annotations.Nullable Stage stage) {
    this.stage = Optional.ofNullable(stage);
  }

  /**
   * The stage of the settings with which the motor works.
   *
   * @return empty for a step that moves no file
   */
  public Optional<Stage> stage() {
    return stage;
  }

  /**
   * The step as commands and records write it.
   *
   * @return one word
   */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /**
   * The step of a word.
   *
   * @param word a word
   * @return empty when no step has it
   */
  public static Optional<CaseStep> of(String word) {
    return Arrays.stream(values()).filter(s -> s.word().equals(word)).findFirst();
  }
}
