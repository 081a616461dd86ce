package org.stopwell.harness.lies;

import java.util.EnumSet;
import java.util.Locale;
import java.util.Set;
import org.stopwell.core.frame.Cause;

/**
 * What makes a reading lie: a condition of a plan in {@code docs/plans/lies}, beside the sound
 * tooth of that plan.
 */
enum Lie {
  FULL(
      "wet-chamber",
      "full",
      "Wet chamber, full from the start",
      "fluid runs over to the gingiva",
      "The chamber is full to its edge. Current leaves the file in the chamber and runs over the"
          + " crown and through its wall to the lip. Little of it passes the canal.",
      Cause.LEAKING),
  FILLED(
      "wet-chamber",
      "filled",
      "Wet chamber, filled on the way",
      "fluid runs over to the gingiva",
      "Somebody fills the chamber while the file is 2.5 mm short of the foramen. From then on most of"
          + " the current takes the way around the canal.",
      Cause.LEAKING),
  CROWN(
      "metal-crown",
      "crowned",
      "Metal crown on a wet chamber",
      "the metal leads to the gingiva",
      "Somebody fills the chamber under a metal crown. As soon as the fluid touches the metal, the"
          + " crown is a wire to the gingiva: 500 Ω (assumed) beside 6.5 kΩ through the canal.",
      Cause.LEAKING),
  DRY(
      "dry-canal",
      "dry",
      "Dry canal",
      "no fluid, hardly any current",
      "There is no fluid in the canal. The file touches moist dentine here and there, and hardly any"
          + " current flows.",
      Cause.OPEN,
      Cause.UNWETTED),
  BLOOD(
      "blood-in-the-apex",
      "bleeding",
      "Blood in the apex",
      "blood in place of saline",
      "Blood fills the apical 4 mm. It conducts 0.67 S/m, the saline above it 1.6 S/m, so that each"
          + " millimetre of the apex has 2.4 times its usual resistance.",
      Cause.VAGUE),
  OPEN_APEX(
      "open-apex",
      "open",
      "Open apex",
      "a foramen of 1.2 mm, no constriction",
      "The root of a young tooth is not finished. The canal is 1.2 mm wide at its end and has no"
          + " constriction, so that its resistance is small everywhere.",
      Cause.VAGUE),
  LATERAL(
      "lateral-canal",
      "lateral",
      "Lateral canal",
      "a second way out, 3 mm up",
      "A lateral canal leaves 3 mm above the foramen. It leads current to the tissue there: 50 kΩ, as a"
          + " canal of 0.15 mm over 1.4 mm.",
      Cause.VAGUE),
  LOOSE(
      "loose-file",
      "loose",
      "Loose file",
      "a thin file in a wide canal",
      "A file of size 10 is loose in a canal that was shaped to size 40. The fluid in the wide canal"
          + " carries the current so well that height makes little difference. That the file touches"
          + " the wall now and then changes next to nothing: dentine conducts 300 times less than"
          + " saline.",
      Cause.VAGUE),
  TIP_OUT(
      "tip-out-of-fluid",
      "sucked",
      "Tip out of the fluid",
      "suction takes the fluid away",
      "The fluid stands 10 mm high at first, and suction takes 0.16 mm³ a second. Its surface sinks past"
          + " the tip while the file turns.",
      Cause.OPEN,
      Cause.UNWETTED),
  CLIP_OFF(
      "clip-without-contact",
      "off",
      "Clip without contact",
      "the circuit is open",
      "The lip clip touches nothing. Only the cable, 100 pF, closes the circuit.",
      Cause.OPEN),
  CLIP_DRY(
      "clip-without-contact",
      "dry",
      "Clip on dry skin",
      "20 kΩ in series",
      "The lip clip lies on dry skin: 20 kΩ (assumed) in series with the tooth. The change that the"
          + " canal makes is the same, but it is a small part of the whole.",
      Cause.OPEN,
      Cause.VAGUE),
  FRAGMENT_MIDDLE(
      "separated-file",
      "middle",
      "Separated file in the middle of the canal",
      "the piece carries the current",
      "A piece of 3 mm is stuck in the canal, and its lower end is 1.5 mm short of the foramen. No file"
          + " passes it. Current enters the metal at its upper end and leaves it at its lower one.",
      Cause.VAGUE),
  FRAGMENT_APEX(
      "separated-file",
      "apex",
      "Separated file in the apex",
      "the piece carries the current",
      "A piece of 2 mm is stuck in the canal, and its lower end is 0.2 mm short of the foramen. The"
          + " metal carries the current past the last 2 mm.",
      Cause.VAGUE),
  HYPOCHLORITE(
      "another-irrigant",
      "hypochlorite",
      "Another irrigant: hypochlorite",
      "conducts 6 times as well",
      "The canal holds hypochlorite of 5.25 % in place of saline. It conducts 10 S/m (estimate), six"
          + " times as well, so that the whole canal has the resistance of its last part.",
      Cause.VAGUE),
  WATER(
      "another-irrigant",
      "water",
      "Another irrigant: distilled water",
      "conducts 15000 times as badly",
      "The canal holds distilled water in place of saline. Nearly all of the current leaves through the"
          + " dentine beside the file.",
      Cause.VAGUE);

  private final String plan;
  private final String level;
  private final String title;
  private final String caption;
  private final String physics;
  private final Cause right;
  private final Cause alsoRight;

  Lie(String plan, String level, String title, String caption, String physics, Cause right) {
    this(plan, level, title, caption, physics, right, right);
  }

  Lie(
      String plan,
      String level,
      String title,
      String caption,
      String physics,
      Cause right,
      Cause alsoRight) {
    this.plan = plan;
    this.level = level;
    this.title = title;
    this.caption = caption;
    this.physics = physics;
    this.right = right;
    this.alsoRight = alsoRight;
  }

  /** Name of its plan. */
  String plan() {
    return plan;
  }

  /** Its level of the factor {@code tooth}. */
  String level() {
    return level;
  }

  String title() {
    return title;
  }

  /** A few words for the picture. */
  String caption() {
    return caption;
  }

  /** What happens in the tooth. */
  String physics() {
    return physics;
  }

  /** The causes of lost trust that name it. */
  Set<Cause> right() {
    return EnumSet.of(right, alsoRight);
  }

  /** Name of its picture, and of its heading as a link. */
  String anchor() {
    return title.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9 ]", "").strip().replace(' ', '-');
  }
}
