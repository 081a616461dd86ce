package org.stopwell.harness.firmware;

/** Settings that cannot become firmware. The message says why and what to do. */
public final class FirmwareException extends Exception {
  private static final long serialVersionUID = 1;

  FirmwareException(String message) {
    super(message);
  }
}
