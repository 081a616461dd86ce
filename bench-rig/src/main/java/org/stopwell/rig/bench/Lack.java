package org.stopwell.rig.bench;

import java.util.Arrays;
import org.stopwell.rig.bench.BenchException.RigFault;

/**
 * Something that a bench cannot do.
 *
 * @param ability the ability
 * @param board which board cannot do it, with its port
 */
public record Lack(Ability ability, String board) {
  /**
   * What the board states and what to do.
   *
   * @return a clause for messages
   */
  public String clause() {
    String lacks =
        ability.flag().isEmpty() ? " watches no device" : " states " + ability.flag() + " 0";
    return board + lacks + "; use " + ability.remedy();
  }

  /**
   * Refuses a bench that cannot do what is needed. Nothing has moved then.
   *
   * @param bench an open bench
   * @param needed required abilities
   * @throws BenchException {@code REFUSED} for the first that it lacks
   */
  public static void refuse(Bench bench, Ability... needed) throws BenchException {
    for (Lack lack : bench.lacks()) {
      if (Arrays.asList(needed).contains(lack.ability())) {
        throw new BenchException(RigFault.REFUSED, lack.clause());
      }
    }
  }
}
