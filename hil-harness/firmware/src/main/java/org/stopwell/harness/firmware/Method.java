package org.stopwell.harness.firmware;

import java.util.Comparator;

/**
 * A method by its name in a class file.
 *
 * @param owner class, with slashes
 * @param name its name
 * @param descriptor types of parameters and result
 */
record Method(String owner, String name, String descriptor) implements Comparable<Method> {
  private static final Comparator<Method> ORDER =
      Comparator.comparing(Method::owner)
          .thenComparing(Method::name)
          .thenComparing(Method::descriptor);

  @Override
  public int compareTo(Method other) {
    return ORDER.compare(this, other);
  }

  @Override
  public String toString() {
    return owner.replace('/', '.') + "." + name + descriptor;
  }
}
