package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.random.RandomStream;

class VariedToothTest {
  /**
   * The teeth that the shipped weights were learned from, bit for bit: 64-bit FNV-1a over the bits
   * of every reading, as given by the class that drew and solved in one, before there was a
   * VariedNetwork.
   */
  private static final long AS_LEARNED_FROM = -8_408_249_992_809_311_997L;

  @Test
  void theTeethOfTheTrainingStayBitForBit() throws Exception {
    Population population = new Population(Training.SEED);
    long hash = 0xCBF29CE484222325L;
    for (int i = 1; i < 400; i += 2) {
      Scene scene = population.member(i, Training.fill(i / 2), Training.FREQUENCIES);
      VariedTooth tooth = VariedTooth.of(scene, RandomStream.of(scene.seed(), "network"));
      for (double mm = 20; mm > -0.7; mm -= 0.9) {
        MeasuringCircuit circuit = tooth.at(mm * 1e-3);
        for (int f = 0; f < Training.HERTZ.length; f++) {
          hash = (hash ^ Double.doubleToLongBits(circuit.ohmsRe(f))) * 0x100000001B3L;
          hash = (hash ^ Double.doubleToLongBits(circuit.ohmsIm(f))) * 0x100000001B3L;
        }
      }
    }
    assertEquals(AS_LEARNED_FROM, hash);
  }
}
