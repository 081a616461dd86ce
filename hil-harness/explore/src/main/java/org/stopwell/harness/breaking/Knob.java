package org.stopwell.harness.breaking;

import org.stopwell.core.settings.Parameter;
import org.stopwell.harness.plan.Factor;

/**
 * A key of the scene that moves from the value of the plan to its limit.
 *
 * @param ingredient what it is
 * @param section section of the scene
 * @param parameter the key
 * @param from value of the plan, base units
 * @param to limit, base units
 */
record Knob(Ingredient ingredient, String section, Parameter parameter, long from, long to) {
  static Knob of(Ingredient.Group group, String section, Parameter p, long from, long to) {
    boolean twoSided = p.min() < 0;
    return new Knob(
        new Ingredient(section + "." + p.key(), group, twoSided, false), section, p, from, to);
  }

  long value(double share) {
    long value = from + Math.round(share * (to - from));
    return Math.max(parameter.min(), Math.min(parameter.max(), value));
  }

  Factor factor() {
    return new Factor(
        "scene." + section + "." + parameter.key(),
        parameter,
        Factor.Shape.EVEN,
        parameter.min(),
        parameter.max(),
        java.util.List.of(),
        0);
  }
}
