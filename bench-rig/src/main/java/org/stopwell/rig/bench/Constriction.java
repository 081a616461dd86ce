package org.stopwell.rig.bench;

/**
 * How a canal ends: the morphotypes of the apical constriction (Dummer, McGinn and Rees, Int Endod
 * J 1984;17:192, from memory).
 */
public enum Constriction {
  /** One narrow place, from where the canal widens to the foramen and to the orifice. */
  TRADITIONAL,
  /** A narrow part of even width, from where the canal widens to both ends. */
  PARALLEL,
  /** The canal narrows as far as the foramen, which is as wide as the constriction. */
  TAPERING,
  /** The canal does not narrow before the foramen, which is as wide as the canal: an open apex. */
  NONE
}
