package org.stopwell.rig.bench;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;

/** Keys of the scene section {@code canal}: the canal and the path from it to the lip clip. */
public final class CanalSection {
  /** A tooth with fluid, the same tooth as another network, or a resistor network. */
  public static final Parameter KIND =
      Parameter.of("kind")
          .choice(Kinds.words(CanalKind.values()))
          .text(
              "What is measured. tooth: a tooth that holds fluid; lumped, meshed: the same "
                  + "tooth as two other networks, to test what was trained on the first; "
                  + "field: the same tooth as a field around one axis; "
                  + "resistors: a resistor network in place of a tooth; network: resistors and "
                  + "capacitors that show the magnitudes of the tooth at its lowest and highest "
                  + "frequency, with phases of their own; chain: resistors and fixed capacitors that "
                  + "show magnitude and phase of the tooth from 0.2 to 20 kHz.")
          .source("design choice");

  /** Orifice to foramen along the canal before it is shaped, mm. */
  public static final Parameter LENGTH =
      Parameter.of("length_mm")
          .unit("mm", 3)
          .range("4", "30")
          .initially("16")
          .text("Length of the canal from orifice to foramen, before it is shaped.")
          .source("assumed: the working part of a file, ISO 3630-1");

  /** Diameter of the canal where it leaves the root, mm. */
  public static final Parameter FORAMEN_DIAMETER =
      Parameter.of("foramen_diameter_mm")
          .unit("mm", 3)
          .range("0.1", "3")
          .initially("0.5")
          .text("Diameter of the foramen; a tapering canal ends with constriction_diameter_mm.")
          .source("Kuttler, J Am Dent Assoc 1955;50:544: 0.502 mm at 18-25 years");

  /** How the canal ends at its apex. */
  public static final Parameter CONSTRICTION_TYPE =
      Parameter.of("constriction")
          .choice(Kinds.words(Constriction.values()))
          .text(
              "Form of the constriction. traditional: one narrow place; parallel: a narrow part "
                  + "of even width; tapering: the canal narrows as far as the foramen; none: the "
                  + "canal is as wide as the foramen there, as in an open apex.")
          .source(
              "traditional in 52 % of 313 molar canals, Chang et al., Restor Dent Endod "
                  + "2022;47:e19");

  /** Distance from foramen to constriction, mm. */
  public static final Parameter CONSTRICTION =
      Parameter.of("constriction_mm")
          .unit("mm", 3)
          .range("0", "3")
          .initially("0.5")
          .text("Distance of the constriction from the foramen, if traditional or parallel.")
          .source("Kuttler 1955: 0.524 mm (young), from memory");

  /** Length of a parallel constriction, mm. */
  public static final Parameter CONSTRICTION_LENGTH =
      Parameter.of("constriction_length_mm")
          .unit("mm", 3)
          .range("0", "5")
          .initially("1")
          .text("Length of the narrow part of a parallel constriction.")
          .source("assumed");

  /** Diameter of the canal at its narrowest, mm. */
  public static final Parameter CONSTRICTION_DIAMETER =
      Parameter.of("constriction_diameter_mm")
          .unit("mm", 3)
          .range("0.1", "1.2")
          .initially("0.25")
          .text("Diameter at the constriction.")
          .source("Kuttler 1955: 0.25 to 0.30 mm");

  /** Growth of the diameter from the constriction towards the orifice, mm per mm. */
  public static final Parameter TAPER =
      Parameter.of("taper")
          .decimals(4)
          .range("0", "0.12")
          .initially("0.06")
          .text("Growth of the diameter from constriction to orifice, mm per mm.")
          .source("assumed: a canal whose upper parts have been opened");

  /** Thickness of dentine and cementum around the canal, mm. */
  public static final Parameter WALL =
      Parameter.of("wall_mm")
          .unit("mm", 3)
          .range("0.2", "5")
          .initially("1.5")
          .text("Thickness of the dentine around the canal, cementum included.")
          .source("assumed");

  /** Resistivity of the dentine, Ω·m. */
  public static final Parameter WALL_RESISTIVITY =
      Parameter.of("wall_ohm_m")
          .unit("Ω·m")
          .range("5", "1000000")
          .initially("212")
          .text("Resistivity of the dentine half way between foramen and orifice.")
          .source(
              "enamel with dentine in 0.16 mol/l NaCl, computed from Schulte et al., J Dent 1998; "
                  + "crown dentine 8.4, Orbán et al., Int J Clin Dent 2020;13:105; root dentine: "
                  + "not found");

  /** Resistivity of the dentine at the foramen over that at the orifice. */
  public static final Parameter WALL_APEX_FACTOR =
      Parameter.of("wall_apex_factor")
          .decimals(2)
          .range("1", "50")
          .initially("1")
          .text(
              "Resistivity of the dentine at the foramen over that at the orifice; even in its "
                  + "logarithm between.")
          .source("one resistivity everywhere; apical tubules are fewer and often closed");

  /** Resistance of the smear layer on the wall, Ω·cm². */
  public static final Parameter SMEAR =
      Parameter.of("smear_ohm_cm2")
          .unit("Ω·cm²", 1)
          .range("0", "10000")
          .initially("0")
          .text("Resistance of the smear layer on the wall by area; 0: none.")
          .source("a wall without smear layer");

  /** Resistivity of the tissue at the foramen, Ω·m. */
  public static final Parameter TISSUE_RESISTIVITY =
      Parameter.of("tissue_ohm_m")
          .unit("Ω·m", 2)
          .range("0.2", "50")
          .initially("3")
          .text("Resistivity of the tissue just outside of the foramen.")
          .source("assumed, between blood 1.5 and muscle 6.2 (Geddes & Baker 1967)");

  /** Resistance from the tissue around the root to the lip clip at low frequency, Ω. */
  public static final Parameter BODY =
      Parameter.of("body_ohm")
          .unit("Ω")
          .range("100", "100000")
          .initially("3500")
          .text(
              "Resistance from the tissue around the root to the lip clip at low frequency. "
                  + "Resistor network: resistance at the foramen, the whole path, 6500 Ω unless "
                  + "given.")
          .source(
              "6500 from a file at the foramen to the mucosa, Sunada, J Dent Res 1962;41:375, "
                  + "less 3000 for the spreading at a foramen of 0.5 mm in 3 Ω·m; nominal: later "
                  + "work finds no true constant");

  /** Share of {@link #BODY} that is left at high frequency. */
  public static final Parameter BODY_HIGH_SHARE =
      Parameter.of("body_high_share")
          .decimals(3)
          .range("0.01", "1")
          .initially("0.15")
          .text("Share of body_ohm that remains at high frequency.")
          .source("assumed");

  /** Frequency at which the body path turns, Hz. */
  public static final Parameter BODY_CORNER =
      Parameter.of("body_corner_hz")
          .unit("Hz")
          .range("10", "1000000")
          .initially("2500")
          .text("Corner frequency of the body path (Cole).")
          .source("assumed");

  /** Cole exponent of the body path. */
  public static final Parameter BODY_EXPONENT =
      Parameter.of("body_exponent")
          .decimals(3)
          .range("0.3", "1")
          .initially("0.8")
          .text("Cole exponent of the body path.")
          .source("assumed");

  /** Resistor network: growth of the resistance per mm short of the foramen, Ω/mm. */
  public static final Parameter OHM_PER_MM =
      Parameter.of("ohm_per_mm")
          .unit("Ω/mm")
          .range("0", "100000")
          .initially("3000")
          .text(
              "Resistor network: resistance added per mm short of the foramen and removed "
                  + "per mm past it.")
          .source("assumed");

  /** Resistor network: capacitance across the whole network, nF. */
  public static final Parameter PARALLEL_CAPACITANCE =
      Parameter.of("parallel_nf")
          .unit("nF", 1)
          .range("0", "1000")
          .initially("0")
          .text("Resistor network: capacitance in parallel.")
          .source("a network of resistors alone");

  /** Resistor network: resistor across the whole network, Ω; 0 is none. */
  public static final Parameter SHUNT =
      Parameter.of("shunt_ohm")
          .unit("Ω")
          .range("0", "1000000")
          .initially("0")
          .text("Resistor network: resistor in parallel, in place of a leak; 0: none.")
          .source("a network without a leak");

  /** Height of a lateral canal above the foramen, mm; 0: none. */
  public static final Parameter LATERAL_CANAL =
      Parameter.of("lateral_canal_mm")
          .unit("mm", 3)
          .range("0", "30")
          .initially("0")
          .text("Height of a lateral canal above the foramen; 0: none.")
          .source("a canal without a lateral canal");

  /** Resistance of the lateral canal, Ω. */
  public static final Parameter LATERAL_CANAL_OHM =
      Parameter.of("lateral_canal_ohm")
          .unit("Ω")
          .range("1000", "100000000")
          .initially("200000")
          .text("Resistance from the canal through the lateral canal to tissue.")
          .source("assumed");

  /** Height of blood or exudate above the foramen, mm. */
  public static final Parameter EXUDATE =
      Parameter.of("exudate_mm")
          .unit("mm", 3)
          .range("0", "10")
          .initially("0")
          .text("Height above the foramen up to which blood or exudate replaces the fluid.")
          .source("a canal without any");

  /** Conductivity of blood or exudate, S/m. */
  public static final Parameter EXUDATE_CONDUCTIVITY =
      Parameter.of("exudate_s_per_m")
          .unit("S/m", 4)
          .range("0.01", "5")
          .initially("0.67")
          .text("Conductivity of the blood or exudate.")
          .source("blood, Geddes & Baker 1967");

  /** Length of a separated file that is stuck in the canal, mm; 0: none. */
  public static final Parameter FRAGMENT_LENGTH =
      Parameter.of("fragment_length_mm")
          .unit("mm", 3)
          .range("0", "16")
          .initially("0")
          .text(
              "Length of a separated file that is stuck in the canal and that no file passes; 0: "
                  + "none. It fills the canal but for its flutes. Kind tooth only.")
          .source("a canal without one");

  /** Height of the lower end of that separated file above the foramen, mm. */
  public static final Parameter FRAGMENT =
      Parameter.of("fragment_mm")
          .unit("mm", 3)
          .range("0", "29")
          .initially("1.5")
          .text("Height of the lower end of the separated file above the foramen.")
          .source("assumed");

  /** Angle by which the canal bends, degrees; 0 is straight. */
  public static final Parameter CURVE =
      Parameter.of("curve_deg")
          .unit("°", 1)
          .range("0", "90")
          .initially("0")
          .text("Angle of the canal's curve; 0: straight canal.")
          .source(
              "a straight canal; 84 % are curved, up to 75°: Schäfer et al., J Endod 2002;28:211");

  /** Radius of the curve, mm. */
  public static final Parameter CURVE_RADIUS =
      Parameter.of("curve_radius_mm")
          .unit("mm", 3)
          .range("1", "100")
          .initially("10")
          .text("Radius of the canal's curve.")
          .source("assumed, within the 2 to 40 mm of Schäfer et al., J Endod 2002;28:211");

  /** Height of the middle of the curve above the foramen, mm. */
  public static final Parameter CURVE_HEIGHT =
      Parameter.of("curve_mm")
          .unit("mm", 3)
          .range("0", "20")
          .initially("4")
          .text("Height of the middle of the curve above the foramen.")
          .source("assumed: between the apical and the middle third");

  /** Size of the file that has shaped the canal before the trial, 1/100 mm; 0: not shaped. */
  public static final Parameter SHAPED_SIZE =
      Parameter.of("shaped_size")
          .unit("1/100 mm")
          .range("0", "140")
          .initially("0")
          .text("ISO size of the file that has shaped the canal before the trial; 0: not shaped.")
          .source("a canal that nobody has shaped");

  /** Taper of that file, mm per mm. */
  public static final Parameter SHAPED_TAPER =
      Parameter.of("shaped_taper")
          .decimals(4)
          .range("0", "0.12")
          .initially("0.06")
          .text("Taper of the file that has shaped the canal.")
          .source("assumed");

  /** Height of the tip of that file above the foramen at the end of the shaping, mm. */
  public static final Parameter SHAPED_TO =
      Parameter.of("shaped_to_mm")
          .unit("mm", 3)
          .range("-2", "30")
          .initially("0.5")
          .text("Height above the foramen to which the canal has been shaped.")
          .source("0.5 mm short of the foramen, common practice");

  /** Shortening of the canal that somebody states, mm; 0: what follows from curve and cut. */
  public static final Parameter SHORTENED =
      Parameter.of("shortened_mm")
          .unit("mm", 3)
          .range("0", "3")
          .initially("0")
          .text(
              "Length that the canal has lost before the trial because it was straightened; 0: the "
                  + "length that follows from its curve and shaped_size.")
          .source(
              "measured 0.22 (nickel-titanium) and 0.48 mm (steel), flared first 0.07 and 0.36: J "
                  + "Endod 2002;28(6), abstract");

  /** Share of the cut that a file takes on the inside of the curve. */
  public static final Parameter INSIDE_SHARE =
      Parameter.of("inside_share")
          .decimals(3)
          .range("0", "1")
          .initially("0.5")
          .text(
              "Share of the cut on the inside of the curve; 0.5: centred, 1: the inside alone, as "
                  + "a stiff file cuts.")
          .source("assumed: a file that stays centred");

  /** The word for a curve that straightens while the file cuts. */
  public static final String YES = "yes";

  /** Whether the curve straightens while the file cuts. */
  public static final Parameter STRAIGHTENS =
      Parameter.of("straightens")
          .choice("no", YES)
          .text(
              "Whether a curved canal gets shorter during the trial as the file cuts: the foramen "
                  + "then comes nearer at the same depth.")
          .source("no: a curve that keeps its length");

  /** All keys. */
  public static final ParameterTable TABLE =
      new ParameterTable(
          List.of(
              KIND,
              LENGTH,
              FORAMEN_DIAMETER,
              CONSTRICTION_TYPE,
              CONSTRICTION,
              CONSTRICTION_LENGTH,
              CONSTRICTION_DIAMETER,
              TAPER,
              WALL,
              WALL_RESISTIVITY,
              WALL_APEX_FACTOR,
              SMEAR,
              TISSUE_RESISTIVITY,
              BODY,
              BODY_HIGH_SHARE,
              BODY_CORNER,
              BODY_EXPONENT,
              OHM_PER_MM,
              PARALLEL_CAPACITANCE,
              SHUNT,
              LATERAL_CANAL,
              LATERAL_CANAL_OHM,
              EXUDATE,
              EXUDATE_CONDUCTIVITY,
              FRAGMENT_LENGTH,
              FRAGMENT,
              CURVE,
              CURVE_RADIUS,
              CURVE_HEIGHT,
              SHAPED_SIZE,
              SHAPED_TAPER,
              SHAPED_TO,
              SHORTENED,
              INSIDE_SHARE,
              STRAIGHTENS));

  /** The whole path from a file at the foramen to the mucosa, Ω (Sunada 1962, nominal). */
  private static final String WHOLE_PATH = "6500";

  private CanalSection() {}

  /** What is written, and the whole path at the foramen of a resistor network that gives none. */
  static Map<String, Object> completed(Map<String, ?> written) {
    Map<String, Object> all = new LinkedHashMap<>(written);
    if (CanalKind.RESISTORS.name().equalsIgnoreCase(String.valueOf(all.get(KIND.key())))) {
      all.putIfAbsent(BODY.key(), WHOLE_PATH);
    }
    return all;
  }

  /**
   * What stands where the tooth stands.
   *
   * @param values values of this section
   * @return the kind of the canal
   */
  public static CanalKind kind(ParameterValues values) {
    return CanalKind.values()[values.getInt(KIND)];
  }

  /**
   * How the canal ends.
   *
   * @param values values of this section
   * @return the form of its constriction
   */
  public static Constriction constriction(ParameterValues values) {
    return Constriction.values()[values.getInt(CONSTRICTION_TYPE)];
  }

  /**
   * Height of the upper end of a separated file in the canal.
   *
   * @param canal values of this section
   * @return µm above the foramen; 0 where there is none
   */
  public static long fragmentTop(ParameterValues canal) {
    long length = canal.get(FRAGMENT_LENGTH);
    return length == 0 ? 0 : canal.get(FRAGMENT) + length;
  }

  /**
   * Refuses a constriction wider than the foramen, or longer than the canal, and a separated file
   * that the canal cannot hold.
   */
  static List<Fault> contradictions(ParameterValues canal) {
    List<Fault> faults = new ArrayList<>();
    Constriction form = constriction(canal);
    boolean flares = form == Constriction.TRADITIONAL || form == Constriction.PARALLEL;
    if (flares && canal.get(CONSTRICTION_DIAMETER) > canal.get(FORAMEN_DIAMETER)) {
      faults.add(fault(canal, CONSTRICTION_DIAMETER, " mm is wider than ", FORAMEN_DIAMETER));
    }
    long end = canal.get(CONSTRICTION) + canal.get(CONSTRICTION_LENGTH);
    if (form == Constriction.PARALLEL && end >= canal.get(LENGTH)) {
      faults.add(fault(canal, CONSTRICTION_LENGTH, " mm above constriction_mm reaches ", LENGTH));
    }
    if (canal.get(SHAPED_SIZE) > 0 && canal.get(SHAPED_TO) >= canal.get(LENGTH)) {
      faults.add(fault(canal, SHAPED_TO, " mm is not below ", LENGTH));
    }
    if (fragmentTop(canal) >= canal.get(LENGTH)) {
      faults.add(fault(canal, FRAGMENT_LENGTH, " mm above fragment_mm reaches ", LENGTH));
    }
    if (canal.get(FRAGMENT_LENGTH) > 0 && kind(canal) != CanalKind.TOOTH) {
      String key = "canal." + FRAGMENT_LENGTH.key();
      String word = KIND.human(canal.get(KIND));
      faults.add(
          new Fault(
              key,
              key + ": a canal of kind " + word + " holds no separated file; only tooth does"));
    }
    return faults;
  }

  private static Fault fault(
      ParameterValues canal, Parameter one, String relation, Parameter other) {
    String key = "canal." + one.key();
    return new Fault(
        key,
        key
            + ": "
            + one.human(canal.get(one))
            + relation
            + other.key()
            + " "
            + other.human(canal.get(other))
            + " mm");
  }
}
