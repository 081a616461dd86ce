package org.stopwell.rig.population;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.Constriction;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Irrigant;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.random.Tapes;

/**
 * A population of trials. Every member is a pure function of seed and index; the spreads are data,
 * each with its source.
 */
public final class Population {
  /** How full the canal is before the file goes in. */
  public enum Fill {
    /** Nothing in it. */
    DRY,
    /** The apical half wet, the chamber dry: what a length reading wants. */
    HALF_WET,
    /** To the orifice: what cutting wants. */
    BRIMFUL,
    /** Up into the chamber. */
    FLOODED
  }

  private static final String ASSUMED = "assumed";

  /** Spreads by section. */
  private static final Map<String, List<Spread>> SPREADS =
      Map.of(
          "canal",
          List.of(
              Spread.normal(
                  CanalSection.LENGTH,
                  12.4,
                  1.8,
                  8,
                  18,
                  "molars: 20.5 mm, textbooks, less 8.1 mm from cusp to chamber floor, Deutsch &"
                      + " Musikant, J Endod 2004;30:388, from memory; SD assumed, as of premolars:"
                      + " Clin Pract 2022;12:1043"),
              Spread.normal(
                  CanalSection.CONSTRICTION,
                  0.709,
                  0.27,
                  0.15,
                  1.6,
                  "molars 0.709 mm, SD 0.27: Eur J Dent, doi 10.4103/ejd.ejd_54_18"),
              Spread.normal(
                  CanalSection.CONSTRICTION_DIAMETER,
                  0.31,
                  0.07,
                  0.18,
                  0.55,
                  "circle as large as the ovals of 1727 molar canals: means 0.22 to 0.33 by 0.31 to"
                      + " 0.47 mm, SD of the narrow 0.06 to 0.11, Wolf et al., PMC5709546"),
              Spread.normal(
                  CanalSection.FORAMEN_DIAMETER,
                  0.5,
                  0.1,
                  0.3,
                  0.8,
                  "between molars up to 0.39 mm, Morfis et al. 1994, and 0.50 to 0.68 mm, Kuttler"
                      + " 1955, teeth of several kinds; both from memory"),
              Spread.even(CanalSection.TAPER, 0.04, 0.08, ASSUMED),
              Spread.even(CanalSection.WALL, 1, 2.5, ASSUMED),
              Spread.logNormal(
                  CanalSection.WALL_RESISTIVITY,
                  212,
                  2.2,
                  10,
                  1000,
                  "median: tooth tissue 212, worked out from Schulte et al., J Dent 1998; spread from"
                      + " crown dentine, 8.4, Orbán et al. 2020, to 1000, sclerotic: assumed"),
              Spread.logEven(
                  CanalSection.WALL_APEX_FACTOR,
                  1,
                  8,
                  "tubules five times as many at the crown as at the apex, Carrigan et al. 1984, from"
                      + " memory; the spread around it assumed"),
              Spread.logEven(
                  CanalSection.TISSUE_RESISTIVITY,
                  1.5,
                  6.2,
                  "blood to muscle, Geddes & Baker 1967"),
              // drawn as the whole path from the foramen to the lip clip at low frequency, without
              // the metal's own surface; the body path is what the foramen's spreading leaves of it
              Spread.logEven(
                  CanalSection.BODY,
                  4300,
                  9800,
                  "6500 nominal, Sunada, J Dent Res 1962;41:375, no true constant by later work;"
                      + " swept around it by a factor of 1.5: assumed"),
              Spread.even(CanalSection.BODY_HIGH_SHARE, 0.08, 0.25, ASSUMED),
              Spread.logEven(CanalSection.BODY_CORNER, 1500, 4500, ASSUMED),
              Spread.even(CanalSection.BODY_EXPONENT, 0.7, 0.9, ASSUMED)),
          "fluid",
          List.of(
              Spread.logEven(FluidSection.STRENGTH, 80, 125, "age, dilution and make: assumed"),
              Spread.even(
                  FluidSection.TEMPERATURE, 25, 37, "room to body temperature; evenly: assumed"),
              Spread.even(FluidSection.CHAMBER_AREA, 5, 12, ASSUMED),
              Spread.even(FluidSection.CHAMBER_DEPTH, 2, 5, ASSUMED),
              Spread.logEven(FluidSection.LEAK, 1000, 30_000, ASSUMED),
              Spread.logEven(FluidSection.OVERFLOW, 500, 10_000, ASSUMED)),
          "file",
          List.of(
              Spread.even(FileSection.SOLID_FRACTION, 0.42, 0.75, "triangle to square, geometry"),
              Spread.logEven(FileSection.INTERFACE, 10, 40, "smooth passive metal, from memory"),
              Spread.even(
                  FileSection.INTERFACE_EXPONENT, 0.75, 0.95, "metal in saline, from memory")),
          "hand",
          List.of(
              Spread.logEven(HandSection.FEED, 0.3, 1.5, ASSUMED),
              Spread.even(HandSection.REACTION, 100, 250, ASSUMED),
              Spread.logEven(
                  HandSection.TREMOR,
                  15,
                  90,
                  "50 to 200 µm rms in three dimensions, PMC3989364; one axis of three, and 0.5 to"
                      + " 0.8 of it with a finger rest: assumed"),
              Spread.even(HandSection.TREMOR_RATE, 8, 12, "PMC3989364"),
              Spread.logEven(
                  HandSection.PECK_STROKE,
                  1,
                  4,
                  "assumed; 4 mm on a bench in Restor Dent Endod 2016;41(4)"),
              Spread.even(HandSection.PECK_SPEED, 2, 6, "assumed: about one stroke in a second")),
          "front_end",
          List.of(
              Spread.logEven(FrontEndSection.NOISE, 0.1, 0.5, ASSUMED),
              Spread.even(FrontEndSection.HUM, 0, 0.1, ASSUMED),
              Spread.even(FrontEndSection.GAIN_ERROR, -1, 1, ASSUMED),
              Spread.even(FrontEndSection.DELAY, 3, 15, ASSUMED),
              Spread.even(FrontEndSection.STRAY, 1, 150, "a cable of up to 1.5 m: assumed")));

  /** The body path is never less than this, Ω: assumed. */
  private static final double LEAST_BODY = 1000;

  /** Share of canals with blood or exudate in the apical part: assumed. */
  private static final double BLEEDING = 0.2;

  private static final List<Spread> BLOOD =
      List.of(
          Spread.even(CanalSection.EXUDATE, 0.3, 3, ASSUMED),
          Spread.logEven(
              CanalSection.EXUDATE_CONDUCTIVITY,
              0.5,
              1.5,
              "blood 0.67, Geddes & Baker 1967; plasma 1.5, from memory"));

  // sizes and tapers of files for measuring, and hands, half of them steady: assumed
  private static final String[] SIZES = {"10", "15", "20"};
  private static final String[] TAPERS = {"0.02", "0.04"};
  private static final String[] MOTIONS = {"steady", "steady", "pecking", "hesitating"};

  private final long seed;

  /**
   * A population.
   *
   * @param seed its seed
   */
  public Population(long seed) {
    this.seed = seed;
  }

  /** The spreads by section that every member is drawn from. */
  static Map<String, List<Spread>> spreads() {
    return SPREADS;
  }

  /** The spreads that only some members are drawn from. */
  static List<Spread> spreadsOfSome() {
    return Stream.of(
            BLOOD,
            ApexSpread.OPEN_APEX,
            List.of(WallSpread.SMEAR, ApexSpread.PARALLEL_LENGTH, LateralCanalSpread.RESISTANCE))
        .flatMap(List::stream)
        .toList();
  }

  /**
   * One member.
   *
   * @param index which one, from 0
   * @param fill how full its canal is
   * @param overrides values that replace what is drawn, by key, by section; may be empty. The level
   *     of the fluid follows the resulting canal unless it is replaced too
   * @return its scene
   * @throws SettingsException when an override is not allowed
   */
  public Scene member(long index, Fill fill, Map<String, Map<String, String>> overrides)
      throws SettingsException {
    return member(index, fill, overrides, Tapes.NONE);
  }

  /**
   * One member, some of whose random numbers come from tapes.
   *
   * @param index which one, from 0
   * @param fill how full its canal is
   * @param overrides values that replace what is drawn, by key, by section; may be empty
   * @param tapes tapes in place of streams
   * @return its scene
   * @throws SettingsException when an override is not allowed
   */
  public Scene member(
      long index, Fill fill, Map<String, Map<String, String>> overrides, Tapes tapes)
      throws SettingsException {
    long own = RandomStream.trialSeed(seed, index);
    Map<String, Map<String, String>> written = new LinkedHashMap<>();
    for (String section : Scene.tables().keySet()) {
      RandomStream random = RandomStream.of(own, "population " + section, tapes);
      drawAll(SPREADS.getOrDefault(section, List.of()), random, section(written, section));
    }
    RandomStream choice = RandomStream.of(own, "population choices", tapes);
    Map<String, String> canal = section(written, "canal");
    Map<String, String> fluid = section(written, "fluid");
    section(written, "file").put(FileSection.SIZE.key(), pick(SIZES, choice));
    section(written, "file").put(FileSection.TAPER.key(), pick(TAPERS, choice));
    section(written, "hand").put(HandSection.MOTION.key(), pick(MOTIONS, choice));
    double share = choice.nextDouble();
    CurveSpread.Bend curve = CurveSpread.draw(RandomStream.of(own, "population curve", tapes));
    canal.put(CanalSection.CURVE.key(), decimal(curve.degrees(), 1));
    canal.put(CanalSection.CURVE_RADIUS.key(), decimal(curve.radiusMm(), 3));
    ApexSpread.draw(RandomStream.of(own, "population apex", tapes), canal);
    Irrigant irrigant =
        IrrigantSpread.draw(RandomStream.of(own, "population irrigant", tapes), fluid);
    WallSpread.smear(RandomStream.of(own, "population smear", tapes), irrigant, canal);
    RandomStream bleeding = RandomStream.of(own, "population blood", tapes);
    if (bleeding.nextDouble() < BLEEDING) {
      drawAll(BLOOD, bleeding, canal);
    }
    Map<String, String> givenCanal = overrides.getOrDefault("canal", Map.of());
    Map<String, String> givenFluid = overrides.getOrDefault("fluid", Map.of());
    String length = CanalSection.LENGTH.key();
    canal.put(length, givenCanal.getOrDefault(length, canal.get(length)));
    LateralCanalSpread.draw(
        RandomStream.of(own, "population lateral canal", tapes),
        number(canal, CanalSection.LENGTH),
        canal);
    if (givenFluid.containsKey(FluidSection.CONDUCTIVITY.key())) {
      fluid.remove(FluidSection.IRRIGANT.key());
      fluid.remove(FluidSection.STRENGTH.key());
    }
    overrides.forEach((section, values) -> section(written, section).putAll(values));
    fitForamen(canal, givenCanal);
    if (!givenCanal.containsKey(CanalSection.BODY.key())) {
      double body = Math.max(LEAST_BODY, number(canal, CanalSection.BODY) - spreadingOhms(canal));
      canal.put(CanalSection.BODY.key(), decimal(body, 0));
    }
    double lengthMm = number(canal, CanalSection.LENGTH);
    double depth = number(fluid, FluidSection.CHAMBER_DEPTH);
    fluid.putIfAbsent(FluidSection.LEVEL.key(), decimal(level(fill, lengthMm, depth, share), 3));
    // the hand carries the file down to the apical third before it waits for the motor
    section(written, "hand").putIfAbsent(HandSection.PASSIVE_DEPTH.key(), decimal(lengthMm - 3, 3));
    return Scene.of(written, own);
  }

  /** A canal that flares is no narrower at its foramen than at its constriction. */
  private static void fitForamen(Map<String, String> canal, Map<String, String> given) {
    double narrow = number(canal, CanalSection.CONSTRICTION_DIAMETER);
    double foramen = number(canal, CanalSection.FORAMEN_DIAMETER);
    if (narrow > foramen) {
      boolean keep = given.containsKey(CanalSection.FORAMEN_DIAMETER.key());
      canal.put(
          (keep ? CanalSection.CONSTRICTION_DIAMETER : CanalSection.FORAMEN_DIAMETER).key(),
          decimal(keep ? foramen : narrow, 3));
    }
  }

  /** From the foramen into the tissue: a disc on a plane, ρ/(4r). */
  private static double spreadingOhms(Map<String, String> canal) {
    boolean tapering =
        Constriction.TAPERING
            .name()
            .equalsIgnoreCase(canal.get(CanalSection.CONSTRICTION_TYPE.key()));
    double mm =
        number(
            canal, tapering ? CanalSection.CONSTRICTION_DIAMETER : CanalSection.FORAMEN_DIAMETER);
    return number(canal, CanalSection.TISSUE_RESISTIVITY) / (2 * mm * 1e-3);
  }

  /**
   * How high fluid stands before the file goes in. The spreads of half-wet and flooded: assumed.
   *
   * @param fill how full the canal is
   * @param length length of the canal, of any unit
   * @param chamber depth of the chamber, same unit
   * @param share where between least and most, 0 to 1
   * @return level above the foramen, same unit
   */
  public static double level(Fill fill, double length, double chamber, double share) {
    return switch (fill) {
      case DRY -> 0;
      case HALF_WET -> length * (0.4 + (0.6 - 0.4) * share);
      case BRIMFUL -> length;
      case FLOODED -> length + chamber * (0.3 + (1 - 0.3) * share);
    };
  }

  private static String decimal(double value, int decimals) {
    return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_EVEN).toPlainString();
  }

  private static String pick(String[] from, RandomStream random) {
    return from[(int) (from.length * random.nextDouble())];
  }

  private static void drawAll(
      List<Spread> spreads, RandomStream random, Map<String, String> values) {
    spreads.forEach(s -> values.put(s.parameter().key(), s.draw(random)));
  }

  private static Map<String, String> section(
      Map<String, Map<String, String>> written, String section) {
    return written.computeIfAbsent(section, s -> new LinkedHashMap<>());
  }

  private static double number(Map<String, String> values, Parameter parameter) {
    return Double.parseDouble(values.get(parameter.key()));
  }
}
