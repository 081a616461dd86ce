package org.stopwell.harness.casework;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.rig.bench.FluidSection;

/** Keys of a case file with their limits. */
final class CaseTables {
  static final String OPERATOR = "operator";
  static final String SETTINGS = "settings";
  static final String STAGES = "stages";
  static final String SIMULATED = "simulated";
  static final String CANALS = "canals";

  static final Parameter VERSION =
      Parameter.of("case")
          .range("1", "1")
          .initially("1")
          .required()
          .text("File format, always 1.")
          .source("assumed");

  static final Parameter TOOTH =
      Parameter.of("tooth")
          .range("11", "85")
          .initially("36")
          .required()
          .text(
              "FDI number of the tooth: 11 to 18, 21 to 28, 31 to 38 or 41 to 48; milk teeth 51 to"
                  + " 55, 61 to 65, 71 to 75 or 81 to 85.")
          .source("ISO 3950, from memory");

  static final Parameter APEX =
      Parameter.of("apex")
          .choice(ApexState.words())
          .text(
              "How the root ends. closed: a grown root; open: a root that is not yet grown;"
                  + " resorbed: a root that resorption has shortened or widened.")
          .source("a grown root");

  static final Parameter REFERENCE =
      Parameter.of("reference")
          .choice(CrownPoint.words())
          .required()
          .text("Place on the crown from which the length counts, where the rubber stop rests.")
          .source("common practice: a cusp or an edge");

  static final Parameter OFFSET =
      Parameter.of("reference_to_orifice_mm")
          .unit("mm", 3)
          .range("0", "20")
          .initially("7")
          .required()
          .text("From the reference point to the orifice along the file; 0 for orifice.")
          .source("measured, for example with the rubber stop");

  /** Keys of the whole tooth. */
  static final ParameterTable HEAD =
      new ParameterTable(List.of(VERSION, TOOTH, APEX, FluidSection.IRRIGANT));

  /** Keys of one canal. */
  static final ParameterTable CANAL =
      new ParameterTable(List.of(REFERENCE, OFFSET, APEX, FluidSection.IRRIGANT));

  static final Set<String> HEAD_OTHERS = Set.of(OPERATOR, SETTINGS, STAGES, SIMULATED, CANALS);
  static final Set<String> CANAL_OTHERS = Set.of(STAGES, SIMULATED);

  /**
   * Names of canals: mesial, distal, buccal, lingual or palatal, their pairs, MM for a middle
   * mesial one and C for the only one, with a number where there are two. A closed list, so that no
   * name of a person stands here.
   */
  static final Pattern CANAL_NAME = Pattern.compile("([MD]?[BLP]|MM|M|D|C)[1-4]?");

  static final String NOT_CANAL =
      "is not the name of a canal: B, L, P, M, D, MB, ML, MP, DB, DL, DP, MM or C, with 1 to 4 behind"
          + " it where there are several";

  /** Codes of operators: at least one digit, so that no name of a person stands here. */
  static final Pattern OPERATOR_CODE = Pattern.compile("(?=[A-Za-z]*[0-9])[A-Za-z0-9]{1,8}");

  /** Parts of keys that would hold what identifies a person. */
  private static final List<String> PERSONAL =
      List.of(
          "patient",
          "name",
          "birth",
          "insur",
          "phone",
          "mobile",
          "mail",
          "address",
          "street",
          "social",
          "passport",
          "person",
          "gender",
          "chart",
          "doctor",
          "dentist",
          "clinic",
          "practice",
          "comment",
          "note",
          "remark",
          "number");

  private static final Set<String> PERSONAL_WORDS =
      Set.of("age", "dob", "id", "sex", "ssn", "city", "zip");

  private CaseTables() {}

  /** Whether a number is that of a tooth: quadrants of eight, in milk teeth of five. */
  static boolean isTooth(long number) {
    long quadrant = number / 10;
    long place = number % 10;
    return place >= 1
        && (quadrant <= 4 ? place <= 8 : place <= 5)
        && quadrant >= 1
        && quadrant <= 8;
  }

  /** Why a key must not stand in a case file, where it would identify a person. */
  static Optional<String> personal(String key) {
    String plain = key.toLowerCase(Locale.ROOT);
    return PERSONAL_WORDS.contains(plain) || PERSONAL.stream().anyMatch(plain::contains)
        ? Optional.of(
            "not allowed: a case file must not identify a person. It holds a tooth, its canals and"
                + " codes; keep the link to a person elsewhere. Remove this key")
        : Optional.empty();
  }

  /** Scene keys that follow from other keys of the case. */
  static final Map<String, String> ELSEWHERE =
      Map.of(
          "fluid." + FluidSection.IRRIGANT.key(),
          "write irrigant outside of simulated",
          "file.size",
          "write it under stages, as file.size of the stage",
          "file.taper",
          "write it under stages, as file.taper of the stage",
          "hand.depth_axis",
          "remove it; the steps of a case need the axis");
}
