package org.stopwell.harness.length;

import java.util.OptionalInt;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.random.RandomStream;

/** Who reads how deep the file is, from the reference point. */
public interface DepthReader {
  /**
   * Reads the depth of a file that rests.
   *
   * @param in what the bench measured
   * @param truth where the tip really is
   * @return depth of the tip below the reference point, µm; empty when nobody reads it
   */
  OptionalInt read(ControllerInput in, Truth truth);

  /**
   * Whether the depth can be read now.
   *
   * @param in what the bench measured
   * @return false where the axis has no value
   */
  default boolean ready(ControllerInput in) {
    return true;
  }

  /**
   * Whether a person reads it, for whom the bench must be safe.
   *
   * @return true when the bench is stopped before the reading and mounted again after it
   */
  default boolean stopsTheBench() {
    return false;
  }

  /**
   * A depth axis, which counts from the orifice.
   *
   * @param reference the reference point
   * @return a reader of the axis
   */
  static DepthReader axis(ReferencePoint reference) {
    return new DepthReader() {
      @Override
      public boolean ready(ControllerInput in) {
        return in.insertionPresent;
      }

      @Override
      public OptionalInt read(ControllerInput in, Truth truth) {
        return OptionalInt.of(in.insertionMicrons + reference.toOrificeMicrons());
      }
    };
  }

  /**
   * A rubber stop on a simulated bench, whose reading may be anywhere within its error.
   *
   * @param scene the canal
   * @param method reference point and error of the stop
   * @return a played reader
   */
  static DepthReader playedStop(Scene scene, LengthMethod method) {
    RandomStream eye = RandomStream.of(scene.seed(), "rubber stop");
    int length = (int) Canal.lengthMicrons(scene.section("canal"));
    int error = method.depthErrorMicrons();
    return (in, truth) ->
        OptionalInt.of(
            length
                - truth.remainingMicrons
                + method.reference().toOrificeMicrons()
                + (int) Math.round(eye.nextBetween(-error, error)));
  }
}
