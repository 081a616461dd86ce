package org.stopwell.harness.trial;

import java.io.Serializable;
import java.util.List;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.policy.PolicyExtension;

/**
 * Policies from outside as they travel to another machine: the classes that add them. Their jars
 * travel beside them.
 *
 * @param offers the classes, in the order in which they add their policies
 */
public record OwnPolicies(List<Offer> offers) implements Serializable {
  /** No policy from outside. */
  public static final OwnPolicies NONE = new OwnPolicies(List.of());

  /**
   * A class that adds policies.
   *
   * @param type its name
   * @param file the jar or directory that it comes from
   * @param sha256 hash of that file
   */
  public record Offer(String type, String file, String sha256) implements Serializable {}

  /** Takes a copy. */
  public OwnPolicies {
    offers = List.copyOf(offers);
  }

  /**
   * Adds the policies of one extension, each watched by a {@link PolicyGuard}.
   *
   * @param known the policies so far
   * @param extension what adds to them
   * @param file the jar or directory that it comes from
   * @return these and the own ones
   */
  public static Policies add(Policies known, PolicyExtension extension, String file) {
    return extension.addTo(known).wrapped(known, new PolicyGuard(file));
  }

  /**
   * The built-in policies and these.
   *
   * @param loader finds the classes
   * @return what settings may name
   * @throws ReflectiveOperationException when a class is not there
   */
  public Policies in(ClassLoader loader) throws ReflectiveOperationException {
    Policies policies = Policies.BUILT_IN;
    for (Offer offer : offers) {
      PolicyExtension extension =
          Class.forName(offer.type(), true, loader)
              .asSubclass(PolicyExtension.class)
              .getConstructor()
              .newInstance();
      policies = add(policies, extension, offer.file());
    }
    return policies;
  }
}
