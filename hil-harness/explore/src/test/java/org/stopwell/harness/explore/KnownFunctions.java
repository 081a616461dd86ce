package org.stopwell.harness.explore;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.Parameter;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.trial.Outcome;
import org.stopwell.harness.trial.TestPlans;

/** Functions whose sensitivity is known, as spaces with a model of their own. */
final class KnownFunctions {
  /** Base units of one unit of an outcome. */
  static final double UNIT = 1e6;

  private KnownFunctions() {}

  /** f = sin x1 + 7 sin² x2 + 0.1 x3⁴ sin x1 on ±π (Ishigami and Homma 1990). */
  static Evaluation ishigami(long[] v, long rest) {
    double a = StrictMath.sin(v[0] / 1e6);
    double b = StrictMath.sin(v[1] / 1e6);
    double c = v[2] / 1e6;
    return Evaluation.of(StrictMath.round((a + 7 * b * b + 0.1 * c * c * c * c * a) * UNIT));
  }

  /** The product of (|4 x − 2| + a) / (1 + a) on 0 to 1 (Sobol's g-function). */
  static Evaluation g(long[] v, double[] a) {
    double product = 1;
    for (int i = 0; i < a.length; i++) {
      product *= (Math.abs(4 * (v[i] / 1e6) - 2) + a[i]) / (1 + a[i]);
    }
    return Evaluation.of(StrictMath.round(product * UNIT));
  }

  /**
   * The function of 20 arguments of Morris 1991, equation 9; the small coefficients are ±1 in turn.
   */
  static Evaluation morris(long[] v) {
    double[] w = new double[20];
    for (int i = 0; i < 20; i++) {
      double x = v[i] / 1e6;
      w[i] = i == 2 || i == 4 || i == 6 ? 2 * (1.1 * x / (x + 0.1) - 0.5) : 2 * (x - 0.5);
    }
    double y = 0;
    for (int i = 0; i < 20; i++) {
      y += (i < 10 ? 20 : sign(i + 1)) * w[i];
      for (int j = i + 1; j < 20; j++) {
        y += (j < 6 ? -15 : sign(i + j)) * w[i] * w[j];
        for (int k = j + 1; k < 5; k++) {
          y += -10 * w[i] * w[j] * w[k];
          for (int l = k + 1; l < 4; l++) {
            y += 5 * w[i] * w[j] * w[k] * w[l];
          }
        }
      }
    }
    return Evaluation.of(Math.round(y * UNIT));
  }

  private static int sign(int i) {
    return i % 2 == 0 ? 1 : -1;
  }

  static Space space(
      Space.Design design, int factors, double low, double high, long seed, long trials)
      throws Exception {
    List<Factor> all = new ArrayList<>();
    for (int i = 1; i <= factors; i++) {
      all.add(factor(i, Factor.Shape.EVEN, low, high));
    }
    return space(design, all, seed, trials);
  }

  /** An argument with six decimals. */
  static Factor factor(int number, Factor.Shape shape, double low, double high) {
    Parameter p =
        Parameter.of("x" + number)
            .decimals(6)
            .range("-10", "10")
            .initially("0")
            .text("An argument.")
            .source("the function");
    return new Factor(
        "scene.x" + number, p, shape, Math.round(low * 1e6), Math.round(high * 1e6), List.of(), 0);
  }

  static Space space(Space.Design design, List<Factor> all, long seed, long trials)
      throws Exception {
    Plan plan =
        Plan.read(
            Source.of(TestPlans.root().resolve("docs/plans/reference-canal.yaml")),
            Policies.BUILT_IN);
    return new Space(
        new Source("known", "known"),
        plan,
        plan.plannedConditions().get(0),
        new Space.Head("known", "", Outcome.STOP_ERROR, design, seed, trials, 1, 5),
        all,
        List.of(),
        List.of());
  }
}
