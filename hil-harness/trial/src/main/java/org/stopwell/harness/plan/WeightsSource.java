package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.core.weights.WeightsException;
import org.stopwell.rig.weights.ShippedWeights;

/**
 * The weights that settings read by.
 *
 * @param name the file as the settings name it; {@link #SHIPPED} for the weights that come with the
 *     program
 * @param text the file word for word; empty for the shipped weights
 * @param weights what it holds
 */
public record WeightsSource(String name, String text, DepthWeights weights) {
  /** The name of the weights that come with the program. */
  public static final String SHIPPED = "shipped";

  private static final String KEY = "sense." + SenseParameters.WEIGHTS.key();

  /**
   * The weights that the conditions of a plan read by.
   *
   * @param plan the plan
   * @return each once, in the order of the conditions; none where no policy reads by weights
   */
  public static List<WeightsSource> of(Plan plan) {
    List<WeightsSource> all = new ArrayList<>();
    Stream.concat(
            plan.plannedConditions().stream().map(PlannedCondition::settings),
            Stream.of(plan.settings()))
        .filter(settings -> settings.controller().weights().isPresent())
        .map(Settings::weights)
        .filter(one -> all.stream().noneMatch(other -> other.name.equals(one.name)))
        .forEach(all::add);
    return all;
  }

  /** The weights that come with the program. */
  static WeightsSource shipped() {
    return new WeightsSource(SHIPPED, "", ShippedWeights.get());
  }

  /** What the key names, if it is there; the shipped weights otherwise, and where it is wrong. */
  static WeightsSource of(Source settings, Sections sections, Mistakes mistakes) {
    Optional<Sections.Written> named =
        sections.find("sense", SenseParameters.WEIGHTS.key()).findFirst();
    if (named.isEmpty()) {
      return shipped();
    }
    Sections.Written key = named.get();
    try {
      Source source = settings.weights(key.text());
      return new WeightsSource(
          key.text(), source.text(), DepthWeightsText.decode(source.name(), source.text()));
    } catch (PlanException e) {
      Mistake first = e.mistakes().get(0);
      mistakes.add(key.line(), KEY, first.file() + ": " + first.message());
    } catch (WeightsException e) {
      mistakes.add(key.line(), KEY, String.valueOf(e.getMessage()));
    }
    return shipped();
  }
}
