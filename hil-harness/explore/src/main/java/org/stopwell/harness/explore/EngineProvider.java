package org.stopwell.harness.explore;

/** An engine of a module that the product does not need, found by its name on the class path. */
public interface EngineProvider {
  /**
   * The name of the engine.
   *
   * @return the word for {@code --on}
   */
  String name();

  /**
   * The engine.
   *
   * @param order where its machines are, and what they need
   * @return the engine; it reaches for its machines when it runs
   * @throws EngineException when there is no such place
   */
  Engine at(EngineOrder order);
}
