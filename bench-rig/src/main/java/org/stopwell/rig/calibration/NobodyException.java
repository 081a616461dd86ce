package org.stopwell.rig.calibration;

/** Nobody answered: the step is left where it is. */
final class NobodyException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  NobodyException() {
    super(null, null, false, false);
  }
}
