package org.stopwell.harness.budget;

/** The distribution of one input. */
public enum Distribution {
  /** Normal: an uncertainty from a certificate (JCGM 101:2008, 6.4.7). */
  NORMAL,
  /** Student's t, shifted and scaled: the mean of own readings (JCGM 101:2008, 6.4.9). */
  STUDENT,
  /** Rectangular: nothing but limits is known (JCGM 101:2008, 6.4.2). */
  RECTANGULAR
}
