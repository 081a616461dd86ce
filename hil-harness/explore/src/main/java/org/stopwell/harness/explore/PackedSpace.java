package org.stopwell.harness.explore;

import java.io.InvalidObjectException;
import java.io.NotSerializableException;
import java.io.Serializable;
import java.util.List;
import java.util.Map;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.trial.OwnPolicies;

/**
 * A space as texts, for another machine. The jars of own policies travel beside it.
 *
 * @param texts name and text of space, plan and settings
 * @param weights texts of weights, by name
 * @param seed seed of the exploration
 * @param trials trials at most
 * @param build the build that runs them
 * @param periodNs control period, ns
 * @param own policies from outside
 */
public record PackedSpace(
    List<String> texts,
    Map<String, String> weights,
    long seed,
    long trials,
    String build,
    long periodNs,
    OwnPolicies own)
    implements Serializable {

  /** Copies the texts. */
  public PackedSpace {
    texts = List.copyOf(texts);
    weights = Map.copyOf(weights);
  }

  /**
   * Packs a space whose trials run on the virtual bench.
   *
   * @param space the space
   * @param model what evaluates a trial
   * @param build the build that runs the trials
   * @param own policies from outside
   * @return the texts
   * @throws NotSerializableException for a function, which stays in this process
   */
  public static PackedSpace of(Space space, Evaluation.Model model, String build, OwnPolicies own)
      throws NotSerializableException {
    if (!(model instanceof TrialModel trials)) {
      throw new NotSerializableException("a function stays in this process");
    }
    Space.Texts t = space.texts();
    return new PackedSpace(
        List.of(t.name(), t.text(), t.planName(), t.plan(), t.settingsName(), t.settings()),
        t.weights(),
        space.head().seed(),
        space.head().trials(),
        build,
        trials.periodNs(),
        own);
  }

  /**
   * The space again.
   *
   * @return the space
   * @throws InvalidObjectException when the texts are no space
   */
  public Space space() throws InvalidObjectException {
    Space.Texts known =
        new Space.Texts(
            texts.get(0),
            texts.get(1),
            texts.get(2),
            texts.get(3),
            texts.get(4),
            texts.get(5),
            weights);
    ClassLoader loader = Thread.currentThread().getContextClassLoader();
    try {
      return Space.read(known, own.in(loader)).with(seed, trials);
    } catch (PlanException | ReflectiveOperationException e) {
      throw invalid(e);
    }
  }

  /**
   * Work that cannot be made of these texts.
   *
   * @param cause why
   * @return what unpacking throws
   */
  public static InvalidObjectException invalid(Exception cause) {
    InvalidObjectException invalid = new InvalidObjectException(String.valueOf(cause.getMessage()));
    invalid.initCause(cause);
    return invalid;
  }
}
