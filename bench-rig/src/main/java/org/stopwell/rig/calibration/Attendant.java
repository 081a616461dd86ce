package org.stopwell.rig.calibration;

import java.util.Optional;

/** Who does at a bench what a step asks for, and reads the reference instrument. */
public interface Attendant {
  /** Nobody is there. */
  Attendant NOBODY =
      new Attendant() {
        @Override
        public void tell(String text) {}

        @Override
        public Optional<Double> number(String question, String unit) {
          return Optional.empty();
        }
      };

  /**
   * Says what to do.
   *
   * @param text a sentence or two
   */
  void tell(String text);

  /**
   * Asks for a number.
   *
   * @param question what to do and what to read
   * @param unit unit of the answer
   * @return the number, empty when nobody gives one
   */
  Optional<Double> number(String question, String unit);
}
