package org.stopwell.harness.trial;

/**
 * Where one stop error comes from: signed shares that add up to it exactly. Above 0 a share stops
 * the file early, below 0 late. With R the true remaining distance, the shares telescope from the
 * standoff to the place of rest.
 *
 * @param senseMicrons truth minus the unfiltered reading, both at the time to which that reading
 *     belongs: that of the sample that decided, less the delay of a policy that smooths, µm
 * @param filterMicrons unfiltered minus filtered reading, µm
 * @param decideMicrons filtered reading minus standoff when it was decided to stop: the lead that
 *     the controller takes, µm
 * @param linkMicrons R at the decision minus R at that time: how far the file moved while the
 *     sample was on its way, µm
 * @param actuateMicrons R when the motor has lost a tenth of its speed minus R at the decision, µm
 * @param coastMicrons R at rest minus R at that moment: coasting, and the hand that follows, µm
 */
public record ErrorChain(
    int senseMicrons,
    int filterMicrons,
    int decideMicrons,
    int linkMicrons,
    int actuateMicrons,
    int coastMicrons) {
  /** The chain of a trial that did not stop. */
  public static final ErrorChain NONE = new ErrorChain(0, 0, 0, 0, 0, 0);

  /**
   * The whole error.
   *
   * @return sum of the shares: the stop error, µm
   */
  public int totalMicrons() {
    return senseMicrons
        + filterMicrons
        + decideMicrons
        + linkMicrons
        + actuateMicrons
        + coastMicrons;
  }
}
