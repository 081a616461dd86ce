package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.random.RandomStream;

class FileWalkTest {
  @Test
  void a_walk_gives_what_the_file_gives_bit_for_bit() {
    RandomStream random = RandomStream.of(1, "walk");
    for (int round = 0; round < 200; round++) {
      Instrument file =
          new Instrument(
              random.nextBetween(0.05e-3, 0.3e-3),
              random.nextBetween(0, 0.05),
              random.nextBetween(4e-3, 16e-3),
              random.nextBetween(0.3, 1),
              1,
              0.85,
              1e9,
              1e-3,
              0,
              0,
              0);
      FileWalk walk = new FileWalk(file);
      double from = 0;
      while (from < 20e-3) {
        double to = from + random.nextBetween(0, 1e-3);
        walk.begin(from);
        assertEquals(file.radius(from), walk.radius(), 0);
        assertEquals(file.core(from), walk.core(), 0);
        assertEquals(file.surface(from, to), walk.up(to), 0);
        assertEquals(file.radius(to), walk.radius(), 0);
        // some walks begin somewhere else
        from = random.nextDouble() < 0.9 ? to : to + random.nextBetween(0, 1e-3);
      }
    }
  }
}
