package org.stopwell.harness.casework;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * The place on the crown from which a length counts, where the rubber stop rests. A closed list, so
 * that two lengths can be compared, and so that no text of a person stands here.
 */
public enum CrownPoint {
  /** Mesiobuccal cusp. */
  MB_CUSP("mesiobuccal cusp"),
  /** Distobuccal cusp. */
  DB_CUSP("distobuccal cusp"),
  /** Mesiolingual cusp. */
  ML_CUSP("mesiolingual cusp"),
  /** Distolingual cusp. */
  DL_CUSP("distolingual cusp"),
  /** Mesiopalatal cusp. */
  MP_CUSP("mesiopalatal cusp"),
  /** Distopalatal cusp. */
  DP_CUSP("distopalatal cusp"),
  /** Distal cusp of a lower molar. */
  D_CUSP("distal cusp"),
  /** Buccal cusp of a premolar. */
  B_CUSP("buccal cusp"),
  /** Lingual cusp of a premolar. */
  L_CUSP("lingual cusp"),
  /** Palatal cusp of a premolar. */
  P_CUSP("palatal cusp"),
  /** Cusp tip of a canine. */
  CUSP_TIP("cusp tip"),
  /** Incisal edge. */
  INCISAL_EDGE("incisal edge"),
  /** Mesial marginal ridge. */
  MESIAL_RIDGE("mesial marginal ridge"),
  /** Distal marginal ridge. */
  DISTAL_RIDGE("distal marginal ridge"),
  /** A crown that was ground flat for the purpose. */
  FLAT("crown ground flat"),
  /** The orifice of the canal itself. */
  ORIFICE("orifice");

  private final String sentence;

  CrownPoint(String sentence) {
    this.sentence = sentence;
  }

  /**
   * The place as a case file writes it.
   *
   * @return such as {@code mb_cusp}
   */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /**
   * The place for people.
   *
   * @return such as {@code mesiobuccal cusp}
   */
  public String sentence() {
    return sentence;
  }

  /** Every word, in the order of this list. */
  static List<String> words() {
    return Arrays.stream(values()).map(CrownPoint::word).toList();
  }

  /** The place of a word that a table has checked. */
  static CrownPoint of(String word) {
    return Arrays.stream(values()).filter(r -> r.word().equals(word)).findFirst().orElse(ORIFICE);
  }
}
