package org.stopwell.rig.pi;

/**
 * The emergency-stop line: a contact to ground that is closed while all is well, on an input with a
 * pull-up. A press and a cut wire both read high, and both stop.
 *
 * <p>It latches. One high sample is enough to trip it, however short: contacts bounce, and a stop
 * must not wait until they are done. To clear it takes a reset on purpose, while the line has been
 * closed without a break for the release time. Clearing starts nothing (ISO 13850).
 */
final class StopLine {
  private final long releaseNs;
  private boolean open;
  private boolean tripped;
  private long closedSinceNs;

  /** A line as it is found: when it is open, it is tripped. */
  StopLine(long releaseNs, boolean high, long nowNs) {
    this.releaseNs = releaseNs;
    open = high;
    tripped = high;
    closedSinceNs = nowNs;
  }

  /** What the contact says now. */
  synchronized void sample(boolean high, long nowNs) {
    if (high) {
      tripped = true;
    } else if (open) {
      closedSinceNs = nowNs;
    }
    open = high;
  }

  /** Whether the stop holds, pressed now or before and not yet reset. */
  synchronized boolean tripped() {
    return tripped;
  }

  /** A person resets; true when that cleared the stop. */
  synchronized boolean reset(long nowNs) {
    if (!tripped || open || nowNs - closedSinceNs < releaseNs) {
      return false;
    }
    tripped = false;
    return true;
  }
}
