package org.stopwell.rig.calibration;

/** No answer: the step stays as it is. */
final class NobodyException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  NobodyException() {
    super(null, null, false, false);
  }
}
