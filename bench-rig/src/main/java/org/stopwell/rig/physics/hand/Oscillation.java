package org.stopwell.rig.physics.hand;

import org.stopwell.core.number.Elementary;

/** A sine, sampled at even steps by turning a pointer: {@code amplitude·sin(2πft + phase)}. */
final class Oscillation {
  private final double turnRe;
  private final double turnIm;
  private double re;
  private double im;

  Oscillation(double amplitude, double hertz, double phase, double stepSeconds) {
    double turn = 2 * Math.PI * hertz * stepSeconds;
    turnRe = Elementary.cos(turn);
    turnIm = Elementary.sin(turn);
    re = amplitude * Elementary.cos(phase);
    im = amplitude * Elementary.sin(phase);
  }

  /** Goes one step further and returns how much the value has changed. */
  double change() {
    double before = im;
    double next = re * turnRe - im * turnIm;
    im = re * turnIm + im * turnRe;
    re = next;
    return im - before;
  }
}
