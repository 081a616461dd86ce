package org.stopwell.harness.lies;

/** What a policy made of a lie. All but the last survive it. */
enum Survival {
  /** The motor rests, and the controller names what is wrong. */
  NAMED("named rightly"),
  /** The motor rests, and the controller says that it has no valid reading, by another cause. */
  REFUSED("refused"),
  /** The file rests within the tolerance of the standoff, and its reading was within its bound. */
  IN_BAND("stopped in the band"),
  /** Anything else. */
  FOOLED("fooled");

  private final String words;

  Survival(String words) {
    this.words = words;
  }

  String words() {
    return words;
  }
}
