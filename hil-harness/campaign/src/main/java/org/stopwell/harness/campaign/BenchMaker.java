package org.stopwell.harness.campaign;

import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;

/** Makes benches of one kind. */
@FunctionalInterface
public interface BenchMaker {
  /**
   * Makes one and opens it.
   *
   * @return an open bench
   * @throws BenchException when it cannot be used
   */
  Bench open() throws BenchException;
}
