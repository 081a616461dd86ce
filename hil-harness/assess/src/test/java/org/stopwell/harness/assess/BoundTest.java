package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TruncatedNormalDistribution;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.assess.CanalSight.Feed;
import org.stopwell.harness.assess.CanalSight.Pass;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.population.Spread;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.virtual.Specimen;

class BoundTest {
  @Test
  void anApproachTellsMoreThanOneReading() {
    Bound few = new Bound(4, 50, line -> {});
    Bound.Row one = few.row(Bound.Sight.ONE_HALF_WET);
    Bound.Row way = few.row(Bound.Sight.MEASURED_HALF_WET);
    System.out.print(one.text() + way.text());
    assertTrue(one.rmsMm() > 0.05 && one.rmsMm() < 1);
    assertTrue(way.rmsMm() < one.rmsMm());
    for (Bound.Row row : List.of(one, way)) {
      assertTrue(row.obeyed() > 0.2, "the chain hardly moves");
      assertTrue(row.share() > 0.5 && row.share() <= row.withRefusals() + 1e-12);
    }
  }

  /** Rows that differ in what is known have the same canals, and a chain that moves. */
  @Test
  void whoKnowsLessSeesTheSameCanals() {
    Bound few = new Bound(2, 10, line -> {});
    Bound.Row even = few.row(Bound.Sight.WAY_BRIMFUL);
    Bound.Row uneven = few.row(Bound.Sight.UNEVEN_BRIMFUL);
    Bound.Row byChance = few.row(Bound.Sight.CHANCE_BRIMFUL);
    for (Bound.Row row : List.of(uneven, byChance)) {
      System.out.print(row.text());
      assertTrue(row.obeyed() > 0.2, "the chain hardly moves");
      for (int i = 0; i < 2; i++) {
        assertEquals(even.canals().get(i).placeMm(), row.canals().get(i).placeMm());
      }
    }
  }

  /** Sure is what leaves no more open than the default of the estimate asks for. */
  @Test
  void sureIsAStandardErrorOfNoMoreThanTheDefault() {
    List<Bound.Canal> canals =
        List.of(
            new Bound.Canal(1, 1, 0.12, 0.4, Double.NaN, 1),
            new Bound.Canal(0.9, 1, 0.121, 0.9, Double.NaN, 1),
            new Bound.Canal(0.5, 1, 0.05, 1.1, Double.NaN, 1));
    assertEquals(2, Bound.Row.sure(canals));
  }

  /** Canals are chosen by what the shipped estimate tells, never by where the file really is. */
  @Test
  void whereStopsAreDecidedIsToldByTheReadingsAlone() {
    Bound.Row row = new Bound(6, 10, line -> {}).row(Bound.Sight.DECIDED_HALF_WET);
    System.out.print(row.text());
    for (Bound.Canal canal : row.canals()) {
      assertTrue(canal.toldMm() >= 0.55 && canal.toldMm() <= 0.8, canal.toString());
      assertTrue(canal.placeMm() > -0.7 && canal.placeMm() < 3, canal.toString());
    }
    assertTrue(row.canals().stream().anyMatch(c -> c.placeMm() < 0.55 || c.placeMm() > 0.8));
    assertTrue(row.obeyed() > 0.2, "the chain hardly moves");
    assertTrue(row.text().contains("the shipped estimate was within in "));
  }

  @Test
  void aRowCanBeAskedForAlone() {
    String text = new Bound(2, 10, line -> {}).text(List.of("one-half-wet"));
    assertEquals(2, text.lines().count());
    assertTrue(text.contains("one reading, half-wet"));
    assertTrue(Bound.rows().containsAll(List.of("uneven-half-wet", "chance-half-wet")));
  }

  /** What the readings of the bound are is what the bench gives for the same canal. */
  @Test
  void theReadingsAreThoseOfTheBench() throws Exception {
    Scene drawn = new Population(3).member(0, Fill.BRIMFUL, Training.FREQUENCIES);
    List<Pass> one = List.of(new Pass(Fill.BRIMFUL, 1, 0, 1, Feed.MEASURED));
    CanalSight sight = new CanalSight(drawn, one, 0, 3, false, RandomStream.of(1, "any"));
    double[] middle = new double[sight.truth().length];
    middle[0] = NormalDistribution.of(0, 1).inverseCumulativeProbability(0.8 / 3);
    double[] seen = sight.see(middle);
    Map<String, Map<String, String>> all = new HashMap<>();
    String level = "";
    for (String section : List.of("canal", "fluid", "file", "front_end")) {
      Map<String, String> values =
          new HashMap<>(Training.FREQUENCIES.getOrDefault(section, Map.of()));
      for (Spread spread : Population.spreads().getOrDefault(section, List.of())) {
        String text =
            BigDecimal.valueOf(median(spread))
                .setScale(spread.parameter().decimals(), RoundingMode.HALF_EVEN)
                .toPlainString();
        values.put(spread.parameter().key(), text);
        if (spread.parameter().equals(CanalSection.LENGTH)) {
          level = text;
        }
      }
      if (section.equals("fluid")) {
        values.put("level_mm", level);
      }
      all.put(section, values);
    }
    Scene scene = new Population(3).member(0, Fill.BRIMFUL, all);
    MeasuringCircuit circuit = new Specimen(scene).at(0.8e-3);
    double noise = drawn.section("front_end").get(FrontEndSection.NOISE) * 1e-5;
    for (int f = 0; f < Training.HERTZ.length; f++) {
      double re = circuit.ohmsRe(f);
      double im = circuit.ohmsIm(f);
      assertEquals(0.5 * StrictMath.log(re * re + im * im), noise * seen[2 * f], 2e-3);
      assertEquals(StrictMath.atan2(im, re), noise * seen[2 * f + 1], 2e-3);
    }
  }

  private static double median(Spread spread) {
    return switch (spread.shape()) {
      case NORMAL ->
          TruncatedNormalDistribution.of(spread.a(), spread.b(), spread.least(), spread.greatest())
              .inverseCumulativeProbability(0.5);
      case EVEN -> (spread.a() + spread.b()) / 2;
      case LOG_EVEN -> StrictMath.sqrt(spread.a() * spread.b());
    };
  }
}
