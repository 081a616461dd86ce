package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.stopwell.rig.population.Population.Fill;

class InformationBoundTest {
  private static double bound(int readings, double noise) throws Exception {
    return new InformationBound(11, 0.5, 4, readings, noise).rms(10, Fill.HALF_WET);
  }

  @Test
  void moreReadingsAndLessNoiseTellMore() throws Exception {
    double few = bound(4, 0.001);
    double many = bound(25, 0.001);
    double loud = bound(25, 0.01);
    System.out.println("4 readings " + few + ", 25 " + many + ", 25 with noise " + loud + " mm");
    assertTrue(many < few);
    assertTrue(many < loud);
    assertTrue(many > 0.01 && loud < 2);
  }
}
