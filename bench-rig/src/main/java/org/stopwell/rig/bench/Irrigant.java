package org.stopwell.rig.bench;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;

/**
 * Fluids that a scene may name instead of a conductivity. Concentrations are mass per volume, in
 * percent. No published table of hypochlorite, EDTA or chlorhexidine was found: those are
 * estimates, and a bench measures its own. Their order is a measured one: hypochlorite 5, 2.5 and 1
 * %, EDTA 5 and 17 %, saline, chlorhexidine 2 % (Current Research in Dental Sciences 2022;32:148,
 * ten samples each, abstract).
 */
public enum Irrigant {
  /** Not named: the key {@code conductivity_s_per_m} counts. */
  UNNAMED("unnamed", 0, ""),
  /** Distilled water that has taken up carbon dioxide from air. */
  WATER(
      "distilled_water",
      0.00011,
      "1.10 µS/cm, water saturated with carbon dioxide: CRC Handbook after Wu et al., J Res NIST"
          + " 1991;96:191; a canal soon makes it saltier"),
  /** Sodium chloride 0.9 %, 0.154 mol/L. */
  SALINE(
      "saline_0.9",
      1.6,
      "computed from Robinson & Stokes molar conductivities, which are from memory"),
  /** Sodium hypochlorite 1 %, 0.134 mol/L beside as much sodium chloride. */
  HYPOCHLORITE_DILUTE(
      "sodium_hypochlorite_1",
      2.4,
      "estimate, 2.2 to 2.7, taken for sodium chloride of the same sodium: measure"),
  /** Sodium hypochlorite 2.5 %, 0.336 mol/L beside as much sodium chloride. */
  HYPOCHLORITE_WEAK(
      "sodium_hypochlorite_2.5",
      5.5,
      "estimate, 5 to 6, taken for sodium chloride of the same sodium: measure"),
  /** Sodium hypochlorite 5.25 %, 0.705 mol/L beside as much sodium chloride. */
  HYPOCHLORITE_STRONG(
      "sodium_hypochlorite_5.25",
      10,
      "estimate, 9 to 11, taken for sodium chloride of the same sodium: measure"),
  /** EDTA 17 %, about 0.5 mol/L at pH 7 to 8. */
  EDTA("edta_17", 2.0, "estimate, placed by the measured order below EDTA 5 %: measure"),
  /** EDTA 5 %. */
  EDTA_WEAK(
      "edta_5",
      2.2,
      "estimate, placed by the measured order between EDTA 17 % and hypochlorite 1 %: measure"),
  /** Chlorhexidine digluconate 2 %, 0.022 mol/L. */
  CHLORHEXIDINE(
      "chlorhexidine_2",
      0.2,
      "estimate, 0.045 mol/L of charge at 4.5 mS·m²/mol, which is assumed: measure"),
  /** Citric acid 10 %. */
  CITRIC_ACID(
      "citric_acid_10",
      0.69,
      "6.2 mS/cm at 20 °C, CRC Handbook, carried to 25 °C by 2 % per kelvin");

  private final String key;
  private final double siemensPerMetre;
  private final String source;

  Irrigant(String key, double siemensPerMetre, String source) {
    this.key = key;
    this.siemensPerMetre = siemensPerMetre;
    this.source = source;
  }

  /**
   * The words of a plan, in the order of this list.
   *
   * @return one word for each
   */
  static List<String> keys() {
    return Arrays.stream(values()).map(Irrigant::key).toList();
  }

  /**
   * Every named fluid with conductivity and source, for the reference page.
   *
   * @return one sentence
   */
  static String sources() {
    return Arrays.stream(values())
        .filter(i -> i != UNNAMED)
        .map(i -> i.key + " " + i.human() + ": " + i.source)
        .collect(Collectors.joining(". "));
  }

  /**
   * The word of a plan: chemical name and percent.
   *
   * @return for example {@code saline_0.9}
   */
  public String key() {
    return key;
  }

  /**
   * Conductivity at 25 °C.
   *
   * @return S/m; 0 when not named
   */
  public double siemensPerMetre() {
    return siemensPerMetre;
  }

  /** Conductivity as people write it. */
  String human() {
    return BigDecimal.valueOf(siemensPerMetre).toPlainString() + " S/m";
  }

  /**
   * Where the conductivity comes from.
   *
   * @return a source, or a text that begins with the word "estimate"
   */
  public String source() {
    return source;
  }
}
