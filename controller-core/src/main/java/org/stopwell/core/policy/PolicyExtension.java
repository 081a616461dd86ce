package org.stopwell.core.policy;

/**
 * The door for policies from outside. A jar or directory that is given with {@code --extensions}
 * names its implementation in {@code META-INF/services/org.stopwell.core.policy.PolicyExtension};
 * the program finds it there. The core never looks for it.
 */
@FunctionalInterface
public interface PolicyExtension {
  /**
   * Adds policies.
   *
   * @param known the policies so far
   * @return these and the own ones, each under a name of its own
   */
  Policies addTo(Policies known);
}
