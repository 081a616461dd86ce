package org.stopwell.rig.proof;

import java.util.Optional;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.LinearStage;

/**
 * Sends the stage that a bench drives to its home switch, after a person has confirmed that it may
 * move. A bench that has just been switched on knows no place before that, and mounts nothing.
 */
public final class HomedStage {
  private static final String CLEAR =
      "From here on the stage moves by itself, first to its home switch: file out of the canal,"
          + " path clear, hands away, emergency stop within reach.";

  private HomedStage() {}

  /**
   * Homes the stage, if the bench drives one.
   *
   * @param bench an open bench
   * @param operator who says that all is clear
   * @return false when there is a stage and nobody confirms; nothing has moved then
   * @throws BenchException when the stage does not find its home
   */
  public static boolean of(Bench bench, Operator operator) throws BenchException {
    Optional<LinearStage> stage = bench.drivenStage();
    if (stage.isPresent()) {
      if (!operator.asked(CLEAR)) {
        return false;
      }
      stage.get().home();
    }
    return true;
  }
}
