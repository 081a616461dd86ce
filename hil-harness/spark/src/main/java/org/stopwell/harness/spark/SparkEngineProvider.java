package org.stopwell.harness.spark;

import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.EngineOrder;
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
  public Engine at(EngineOrder order) {
    return new SparkEngine(
        Master.of(order.master()),
        ShippedJars.ofThisProgram().with(order.extensions()),
        0,
        order.parquet());
  }
}
