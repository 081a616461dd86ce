package org.stopwell.rig.adversary;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Outside of any budget: frames of any content at any time. */
class ArbitraryFramesTest {
  private static final int PASSES = 5;

  @ParameterizedTest
  @MethodSource("org.stopwell.rig.adversary.AdversaryTest#every")
  void noFrameThrowsAllocatesOrTurnsWhatIsForbidden(Setup setup) {
    long last = AdversaryTest.SEED + AdversaryTest.STARTS;
    for (long seed = AdversaryTest.SEED; seed < last; seed++) {
      Scenario scenario = new Dice(seed, List.of(Kind.values()), AdversaryTest.FASTEST).draw();
      long bytes = play(setup, scenario, seed);
      // What the virtual machine itself does is counted too, but not every time.
      for (int pass = 1; pass < PASSES && bytes > 0; pass++) {
        bytes = play(setup, scenario, seed);
      }
      assertEquals(0, bytes, "bytes allocated; frames of seed " + seed + ", " + setup);
    }
  }

  private static long play(Setup setup, Scenario scenario, long seed) {
    ArbitraryFrames frames = new ArbitraryFrames(seed);
    Check check = new ForbiddenCheck(setup);
    new Run(setup, scenario, Run.handReactionMs(setup), Run.FREE, frames).play(List.of(check));
    assertTrue(check.margin() > 0, check.name() + "; frames of seed " + seed + ", " + setup);
    return frames.bytes();
  }
}
