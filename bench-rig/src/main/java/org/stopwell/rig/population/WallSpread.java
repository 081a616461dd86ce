package org.stopwell.rig.population;

import java.util.Map;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.Irrigant;
import org.stopwell.rig.random.RandomStream;

/**
 * How the wall of canals conducts.
 *
 * <p>No measurement of root dentine in the body's own salt was found. Crown dentine: 8.4 Ω·m at 1
 * kHz (Orbán et al., Int J Clin Dent 2020;13:105). Enamel with dentine in 0.16 mol/l of sodium
 * chloride: 212 Ω·m (worked out from Schulte et al., J Dent 1998). Root dentine has fewer tubules
 * than crown dentine and ages to sclerotic dentine, so the spread goes on to 1000 Ω·m: assumed.
 *
 * <p>Towards the apex the tubules are fewer, thinner and often closed: 42,360 per mm² near the
 * crown and 8,190 near the apex (Carrigan et al., J Endod 1984;10:359, from memory), diameters 4.3
 * and 1.7 µm (Lo Giudice et al., BioMed Res Int 2015, 164065).
 */
final class WallSpread {
  /** Share of instrumented walls that carry a smear layer: assumed. */
  static final double SMEARED = 0.5;

  /**
   * Its resistance. It varies and adds to that of the dentine (J Dent Res 1992;71:426); 1 mm of
   * dentine of 100 Ω·m has 1000 Ω·cm².
   */
  static final Spread SMEAR = Spread.logEven(CanalSection.SMEAR, 3, 100, "assumed");

  private WallSpread() {}

  /** Writes the smear layer into the values of the canal; chelators and acids remove it. */
  static void smear(RandomStream random, Irrigant irrigant, Map<String, String> canal) {
    boolean removed = irrigant == Irrigant.EDTA || irrigant == Irrigant.CITRIC_ACID;
    if (random.nextDouble() < SMEARED && !removed) {
      canal.put(SMEAR.parameter().key(), SMEAR.draw(random));
    }
  }
}
