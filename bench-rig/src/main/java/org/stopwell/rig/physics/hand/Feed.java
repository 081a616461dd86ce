package org.stopwell.rig.physics.hand;

/** Who moves the file along the canal: a hand that follows its habits, or a person at a page. */
public interface Feed {
  /**
   * Where the tip starts.
   *
   * @return height above the foramen, m
   */
  double start();

  /**
   * Goes on by one step.
   *
   * @param nowNs time at the beginning of the step, ns
   * @param remaining height of the tip above the foramen, m
   * @param rotation 1 while the file turns in the cutting direction, -1 while it turns against it,
   *     0 while it rests
   * @return how far the file would move towards the foramen, m; negative is out
   */
  double move(long nowNs, double remaining, int rotation);
}
