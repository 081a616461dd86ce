package org.stopwell.rig.adversary;

/** How deep the file comes while the hand feeds it or still answers to a stop. */
final class DepthCheck implements Check {
  private double deepest = Canal.SHALLOWEST;

  @Override
  public String name() {
    return "the file stays short of the foramen";
  }

  @Override
  public void see(Moment moment) {
    if (moment.feeding) {
      deepest = Math.min(deepest, moment.remaining);
    }
  }

  /** Remaining distance at the deepest, µm. */
  @Override
  public double margin() {
    return deepest;
  }
}
