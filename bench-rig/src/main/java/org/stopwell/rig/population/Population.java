package org.stopwell.rig.population;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.random.RandomStream;

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
                  12.24,
                  1.81,
                  8,
                  18,
                  "Clin Pract 2022;12:1043: 12.24 mm, SD 1.81, premolars without crown"),
              Spread.normal(
                  CanalSection.CONSTRICTION,
                  0.709,
                  0.27,
                  0.15,
                  1.6,
                  "Eur J Dent, doi 10.4103/ejd.ejd_54_18: molars 0.709 mm, SD 0.27"),
              Spread.normal(
                  CanalSection.CONSTRICTION_DIAMETER,
                  0.275,
                  0.04,
                  0.18,
                  0.40,
                  "PMC5709546: narrow diameter 0.22 to 0.33 mm in 1727 molar canals"),
              Spread.normal(
                  CanalSection.FORAMEN_DIAMETER,
                  0.55,
                  0.09,
                  0.40,
                  0.80,
                  "Kuttler, J Am Dent Assoc 1955;50:544: 0.502 and 0.681 mm"),
              Spread.even(CanalSection.TAPER, 0.04, 0.08, ASSUMED),
              Spread.even(CanalSection.WALL, 1, 2.5, ASSUMED),
              Spread.logEven(
                  CanalSection.WALL_RESISTIVITY,
                  300,
                  6000,
                  "worked out from Schulte et al., J Dent 1998"),
              Spread.logEven(
                  CanalSection.TISSUE_RESISTIVITY,
                  1.5,
                  6.2,
                  "blood to muscle, Geddes & Baker 1967"),
              Spread.logEven(
                  CanalSection.BODY, 3500, 10_000, "6500 nominal, Sunada 1962; swept around it"),
              Spread.even(CanalSection.BODY_HIGH_SHARE, 0.08, 0.25, ASSUMED),
              Spread.logEven(CanalSection.BODY_CORNER, 1500, 4500, ASSUMED),
              Spread.even(CanalSection.BODY_EXPONENT, 0.7, 0.9, ASSUMED)),
          "fluid",
          List.of(
              Spread.logEven(
                  FluidSection.CONDUCTIVITY,
                  1.2,
                  6,
                  "saline 1.6 at 25 °C computed; 2.5 % hypochlorite 5 to 6 estimated"),
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
              Spread.even(HandSection.TREMOR, 0, 30, ASSUMED),
              Spread.even(HandSection.TREMOR_RATE, 8, 12, "physiological tremor, from memory"),
              Spread.even(HandSection.PECK_STROKE, 0.3, 1, ASSUMED),
              Spread.even(HandSection.PECK_RATE, 0.7, 1.5, ASSUMED)),
          "front_end",
          List.of(
              Spread.logEven(FrontEndSection.NOISE, 0.1, 0.5, ASSUMED),
              Spread.even(FrontEndSection.HUM, 0, 0.1, ASSUMED),
              Spread.even(FrontEndSection.GAIN_ERROR, -1, 1, ASSUMED),
              Spread.even(FrontEndSection.DELAY, 3, 15, ASSUMED)));

  /**
   * Share of canals with a lateral canal, where they are asked for. De Deus, J Endod 1975;1:361: 27
   * % of 1140 teeth, from memory.
   */
  private static final double LATERAL_CANAL_SHARE = 0.27;

  /** Height and resistance of lateral canals. */
  private static final List<Spread> LATERAL_CANALS =
      List.of(
          Spread.even(CanalSection.LATERAL_CANAL, 0.5, 6, ASSUMED),
          Spread.logEven(CanalSection.LATERAL_CANAL_OHM, 60_000, 1_000_000, ASSUMED));

  // sizes and tapers of files for measuring, and hands, half of them steady: assumed
  private static final String[] SIZES = {"10", "15", "20"};
  private static final String[] TAPERS = {"0.02", "0.04"};
  private static final String[] MOTIONS = {"steady", "steady", "pecking", "hesitating"};

  private final long seed;
  private final boolean lateralCanals;

  /**
   * A population without lateral canals.
   *
   * @param seed its seed
   */
  public Population(long seed) {
    this(seed, false);
  }

  private Population(long seed, boolean lateralCanals) {
    this.seed = seed;
    this.lateralCanals = lateralCanals;
  }

  /**
   * The same population, in which some canals have a lateral canal. Everything else of a member
   * stays the same. No published result uses it.
   *
   * @return a copy
   */
  public Population withLateralCanals() {
    return new Population(seed, true);
  }

  /** The spreads by section. */
  static Map<String, List<Spread>> spreads() {
    return SPREADS;
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
    long own = RandomStream.trialSeed(seed, index);
    Map<String, Map<String, String>> written = new LinkedHashMap<>();
    for (String section : Scene.tables().keySet()) {
      RandomStream random = RandomStream.of(own, "population " + section);
      Map<String, String> values = new LinkedHashMap<>();
      for (Spread spread : SPREADS.getOrDefault(section, List.of())) {
        values.put(spread.parameter().key(), spread.draw(random));
      }
      written.put(section, values);
    }
    RandomStream choice = RandomStream.of(own, "population choices");
    put(written, "file", FileSection.SIZE.key(), pick(SIZES, choice));
    put(written, "file", FileSection.TAPER.key(), pick(TAPERS, choice));
    put(written, "hand", HandSection.MOTION.key(), pick(MOTIONS, choice));
    CurveSpread.Bend curve = CurveSpread.draw(RandomStream.of(own, "population curve"));
    put(written, "canal", CanalSection.CURVE.key(), decimal(curve.degrees(), 1));
    put(written, "canal", CanalSection.CURVE_RADIUS.key(), decimal(curve.radiusMm(), 3));
    if (lateralCanals) {
      RandomStream lateral = RandomStream.of(own, "population side canal");
      if (lateral.nextDouble() < LATERAL_CANAL_SHARE) {
        LATERAL_CANALS.forEach(s -> put(written, "canal", s.parameter().key(), s.draw(lateral)));
      }
    }
    double share = choice.nextDouble();
    overrides.forEach((section, values) -> values.forEach((k, v) -> put(written, section, k, v)));
    double length = Double.parseDouble(get(written, "canal", CanalSection.LENGTH.key()));
    double depth = Double.parseDouble(get(written, "fluid", FluidSection.CHAMBER_DEPTH.key()));
    putUnlessGiven(
        written, overrides, "fluid", FluidSection.LEVEL.key(), level(fill, length, depth, share));
    // the hand carries the file down to the apical third before it waits for the motor
    putUnlessGiven(written, overrides, "hand", HandSection.PASSIVE_DEPTH.key(), length - 3);
    return Scene.of(written, own);
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

  private static void putUnlessGiven(
      Map<String, Map<String, String>> written,
      Map<String, Map<String, String>> overrides,
      String section,
      String key,
      double millimetres) {
    if (!overrides.getOrDefault(section, Map.of()).containsKey(key)) {
      put(written, section, key, text(millimetres));
    }
  }

  private static String text(double millimetres) {
    return decimal(millimetres, 3);
  }

  private static String decimal(double value, int decimals) {
    return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_EVEN).toPlainString();
  }

  private static String pick(String[] from, RandomStream random) {
    return from[(int) (from.length * random.nextDouble())];
  }

  private static void put(
      Map<String, Map<String, String>> written, String section, String key, String value) {
    written.computeIfAbsent(section, s -> new LinkedHashMap<>()).put(key, value);
  }

  private static String get(Map<String, Map<String, String>> written, String section, String key) {
    Map<String, String> values = written.getOrDefault(section, Map.of());
    return values.getOrDefault(key, "0");
  }
}
