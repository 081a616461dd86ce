package org.stopwell.harness.trial;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Truth;

/**
 * Sees the steps of a trial and changes none of them. It returns at once, allocates nothing in a
 * step, and never throws.
 */
public interface Onlooker {
  /** Nobody watches. */
  Onlooker NOBODY =
      new Onlooker() {
        @Override
        public void begin(TrialSpec spec) {}

        @Override
        public void step(
            long nowNs, ControllerInput in, ControllerOutput out, Truth truth, long latenessNs) {}

        @Override
        public void end() {}
      };

  /**
   * A trial begins; its scene is mounted.
   *
   * @param spec the trial
   */
  void begin(TrialSpec spec);

  /**
   * One step is done. The frames are reused after the call.
   *
   * @param nowNs the time given to the step, ns
   * @param in what it consumed
   * @param out what it gave
   * @param truth what was really so
   * @param latenessNs how late the step began, ns
   */
  void step(long nowNs, ControllerInput in, ControllerOutput out, Truth truth, long latenessNs);

  /** The trial has ended and the bench is safe, also when the trial never began. */
  void end();
}
