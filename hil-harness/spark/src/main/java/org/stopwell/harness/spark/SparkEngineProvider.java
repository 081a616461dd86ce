package org.stopwell.harness.spark;

import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.EngineProvider;

/** Offers {@code --on spark}. */
public final class SparkEngineProvider implements EngineProvider {
  /** The provider. */
  public SparkEngineProvider() {}

  @Override
  public String name() {
    return "spark";
  }

  @Override
  public Engine at(String master) {
    return new SparkEngine(Master.of(master), ShippedJars.ofThisProgram(), 0);
  }
}
