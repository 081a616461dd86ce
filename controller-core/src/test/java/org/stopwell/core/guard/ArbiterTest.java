package org.stopwell.core.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Reason;

class ArbiterTest {

  @Test
  void theMostCarefulReactionWinsWhateverTheOrder() {
    for (Reaction a : Reaction.values()) {
      for (Reaction b : Reaction.values()) {
        Arbiter arbiter = new Arbiter();
        arbiter.ask(a, Reason.TORQUE_LIMIT);
        arbiter.ask(b, Reason.STANDOFF_REACHED);
        assertEquals(a.compareTo(b) > 0 ? a : b, arbiter.reaction());
      }
    }
  }

  @Test
  void amongEqualsTheFirstGivesTheReason() {
    Arbiter arbiter = new Arbiter();
    arbiter.ask(Reaction.HOLD, Reason.LINK_LOST);
    arbiter.ask(Reaction.HOLD, Reason.TORQUE_LIMIT);
    assertEquals(Reason.LINK_LOST, arbiter.reason());
  }
}
