package org.stopwell.rig.population;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.Constriction;
import org.stopwell.rig.random.RandomStream;

/**
 * How canals end.
 *
 * <p>Two micro-CT studies differ. In 313 canals of maxillary molars (Chang et al., Restor Dent
 * Endod 2022;47:e19) all had a constriction: 52 % traditional, 29 % parallel, the rest tapering or
 * delta. In 40 palatal roots (abstract) 65 % had none; of the others, parallel to traditional to
 * tapering or delta was 35 to 19 to 27. The shares here weigh the studies two to one: assumed. A
 * delta counts as tapering; its ramifications are not drawn.
 *
 * @param form the form
 * @param share share of the canals with a closed apex
 */
record ApexSpread(Constriction form, double share) {
  /** The forms in order; what is left of the whole has no constriction. */
  static final List<ApexSpread> FORMS =
      List.of(
          new ApexSpread(Constriction.TRADITIONAL, 0.37),
          new ApexSpread(Constriction.PARALLEL, 0.24),
          new ApexSpread(Constriction.TAPERING, 0.17));

  /** Share of open apices: assumed. */
  static final double OPEN = 0.03;

  /** An open apex: as wide as the canal, whose wall is nearly parallel. */
  static final List<Spread> OPEN_APEX =
      List.of(
          Spread.even(CanalSection.FORAMEN_DIAMETER, 1, 2, "assumed; open from 1 mm on"),
          Spread.even(CanalSection.TAPER, 0, 0.02, "assumed: a root that has not closed"));

  static final Spread PARALLEL_LENGTH =
      Spread.even(CanalSection.CONSTRICTION_LENGTH, 0.5, 2, "assumed");

  /** Writes what is drawn into the values of the canal. */
  static void draw(RandomStream random, Map<String, String> canal) {
    boolean open = random.nextDouble() < OPEN;
    Constriction form = form(random.nextDouble());
    if (open) {
      form = Constriction.NONE;
      OPEN_APEX.forEach(s -> canal.put(s.parameter().key(), s.draw(random)));
    }
    if (form == Constriction.PARALLEL) {
      canal.put(PARALLEL_LENGTH.parameter().key(), PARALLEL_LENGTH.draw(random));
    }
    canal.put(CanalSection.CONSTRICTION_TYPE.key(), form.name().toLowerCase(Locale.ROOT));
  }

  private static Constriction form(double at) {
    for (ApexSpread one : FORMS) {
      if (at < one.share) {
        return one.form;
      }
      at -= one.share;
    }
    return Constriction.NONE;
  }
}
