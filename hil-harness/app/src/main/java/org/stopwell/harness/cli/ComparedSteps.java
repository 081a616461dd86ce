package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.Locale;
import org.stopwell.harness.replay.StepComparison;

/** Prints where a replayed trial differs from the recorded one. */
final class ComparedSteps {
  private ComparedSteps() {}

  /** Prints the first difference, or that there is none. */
  static void print(StepComparison c, PrintWriter screen) {
    if (c.identical()) {
      screen.println("identical: " + c.steps() + " steps, every output and every state hash");
      return;
    }
    if (c.firstOutput().isEmpty()) {
      StepComparison.Difference d = c.firstHash().orElseThrow();
      screen.println(
          "equal outputs in all " + c.steps() + " steps, different inner state from " + at(d));
      return;
    }
    StepComparison.Difference d = c.firstOutput().get();
    screen.println("differs from " + at(d));
    screen.println("  recorded: " + d.recorded());
    screen.println("  replayed: " + d.replayed());
    screen.println("  the file was then " + d.remainingMicrons() + " µm short of the foramen");
  }

  private static String at(StepComparison.Difference d) {
    return String.format(Locale.ROOT, "%.3f ms on (step %d)", d.timeNs() / 1e6, d.step());
  }
}
