package org.stopwell.harness.breaking;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.stopwell.rig.fault.FaultKind;

/**
 * What may disturb a trial.
 *
 * @param groups groups of ingredients
 * @param kinds kinds of fault
 * @param limits the limit of each ingredient
 */
public record Scope(Set<Ingredient.Group> groups, List<FaultKind> kinds, Limits limits) {
  /** Copies the sets. */
  public Scope {
    groups = Set.copyOf(groups);
    kinds = List.copyOf(kinds);
  }

  /**
   * Reads the words of a scope.
   *
   * @param words {@code hand}, {@code noise}, {@code faults}, or one kind of fault such as {@code
   *     faults.jump}; none: everything
   * @param limits the limits
   * @return the scope
   * @throws BreakException with every unknown word
   */
  public static Scope of(List<String> words, Limits limits) throws BreakException {
    Set<Ingredient.Group> groups = EnumSet.noneOf(Ingredient.Group.class);
    Set<FaultKind> kinds = new LinkedHashSet<>();
    List<String> mistakes = new ArrayList<>();
    for (String word : words.isEmpty() ? List.of("hand", "noise", "faults") : words) {
      boolean known = false;
      for (Ingredient.Group group : Ingredient.Group.values()) {
        if (group.key().equals(word)) {
          known = true;
          groups.add(group);
          if (group == Ingredient.Group.FAULTS) {
            kinds.addAll(FaultKinds.usual());
          }
        }
      }
      for (FaultKind kind : FaultKind.values()) {
        if (word.equals(Limits.FAULTS + kind.key())) {
          known = true;
          groups.add(Ingredient.Group.FAULTS);
          kinds.add(kind);
          if (!FaultKinds.possible().contains(kind)) {
            mistakes.add(
                word
                    + " ends the trial at once, changes the true distance only, or acts on a"
                    + " device; not searched");
          }
        }
      }
      if (!known) {
        mistakes.add(
            word
                + " is none of hand, noise, faults, "
                + String.join(
                    ", ",
                    FaultKinds.possible().stream().map(k -> Limits.FAULTS + k.key()).toList()));
      }
    }
    if (!mistakes.isEmpty()) {
      throw new BreakException(mistakes);
    }
    return new Scope(groups, new ArrayList<>(kinds), limits);
  }

  /**
   * The groups as words.
   *
   * @return in the order of the command line
   */
  public List<String> words() {
    return Arrays.stream(Ingredient.Group.values())
        .filter(groups::contains)
        .map(Ingredient.Group::key)
        .toList();
  }
}
