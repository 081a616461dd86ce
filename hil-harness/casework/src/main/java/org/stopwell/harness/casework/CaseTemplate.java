package org.stopwell.harness.casework;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/** The files of a new case: valid, with comments that teach. */
public final class CaseTemplate {
  /** The settings file of a new case. */
  public static final String SETTINGS_FILE = "settings.yaml";

  /** Length of the first simulated canal, and how much each further one differs, mm; assumed. */
  private static final double FIRST_LENGTH_MM = 13.2;

  private static final double[] DIFFERENCES_MM = {0, -0.5, 0.4, -0.9, 0.2, -0.3};

  private CaseTemplate() {}

  /**
   * Writes the files of a new case. Replaces no file: settings that lie in the directory are kept.
   *
   * @param directory the directory of the case; made where it is missing
   * @param tooth FDI number
   * @param canals names of its canals; empty for those that are usual in this tooth
   * @param operator code of the operator
   * @throws FileAlreadyExistsException when the directory holds a case
   * @throws IOException when the disk refuses
   */
  public static void write(Path directory, int tooth, List<String> canals, String operator)
      throws IOException {
    Files.createDirectories(directory);
    Files.writeString(
        directory.resolve(ToothCase.FILE),
        text(tooth, canals.isEmpty() ? usual(tooth) : canals, operator),
        StandardOpenOption.CREATE_NEW,
        StandardOpenOption.WRITE);
    Path settings = directory.resolve(SETTINGS_FILE);
    if (!Files.exists(settings)) {
      Files.writeString(
          settings, settings(), StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    }
  }

  /** The canals that are usual in a tooth. */
  static List<String> usual(int tooth) {
    int place = tooth % 10;
    boolean milk = tooth >= 51;
    boolean upper = List.of(1, 2, 5, 6).contains(tooth / 10);
    if (milk ? place >= 4 : place >= 6) {
      return upper ? List.of("MB", "DB", "P") : List.of("MB", "ML", "D");
    }
    return upper && !milk && place == 4 ? List.of("B", "P") : List.of("C");
  }

  /** The reference point that is usual for a canal. */
  static CrownPoint usual(int tooth, String canal) {
    int place = tooth % 10;
    if (place <= 2) {
      return CrownPoint.INCISAL_EDGE;
    }
    if (place == 3) {
      return CrownPoint.CUSP_TIP;
    }
    boolean upper = List.of(1, 2, 5, 6).contains(tooth / 10);
    boolean premolar = tooth < 51 && place <= 5;
    String letters = canal.replaceAll("[0-9]", "");
    return switch (letters) {
      case "MB", "MM", "M" -> CrownPoint.MB_CUSP;
      case "DB" -> CrownPoint.DB_CUSP;
      case "D" -> upper ? CrownPoint.DB_CUSP : CrownPoint.D_CUSP;
      case "ML", "L" -> premolar ? CrownPoint.L_CUSP : CrownPoint.ML_CUSP;
      case "DL" -> CrownPoint.DL_CUSP;
      case "MP", "P" -> premolar ? CrownPoint.P_CUSP : CrownPoint.MP_CUSP;
      case "DP" -> CrownPoint.DP_CUSP;
      default -> premolar ? CrownPoint.B_CUSP : CrownPoint.MB_CUSP;
    };
  }

  /** The text of a new case file. */
  static String text(int tooth, List<String> canals, String operator) {
    StringBuilder text =
        new StringBuilder(
            """
            # The case of one tooth. Bench and teaching; not for use on a person.
            # This file must not identify a person: no name, no number and no date of a patient, not in a comment either.
            # "stopwell case show DIR" lists what is wrong in it, with the line. docs/case.md describes every key.
            case: 1
            tooth: %d                  # FDI number
            operator: %s               # code of who works here, with a digit; never a name
            apex: closed               # closed, open (not yet grown) or resorbed
            irrigant: saline_0.9       # the fluid in the canal
            settings: settings.yaml    # speed, torque, standoff and file of every stage

            # What the virtual or the emulated bench plays in every canal.
            simulated:
              canal: {foramen_diameter_mm: 0.5, constriction_diameter_mm: 0.25, curve_deg: 20}
              fluid: {level_mm: 8, flutes_out_share: 0.5, chips_share: 0.3}

            # What a canal states counts in this canal; the rest is as above.
            canals:
            """
                .formatted(tooth, operator));
    for (int i = 0; i < canals.size(); i++) {
      String name = canals.get(i);
      text.append(
          String.format(
              Locale.ROOT,
              """
                %s:
                  reference: %s          # where the rubber stop rests
                  reference_to_orifice_mm: 7   # measure it along the file
                  simulated:
                    canal: {length_mm: %.1f}   # from the orifice to the foramen
              """,
              name,
              usual(tooth, name).word(),
              FIRST_LENGTH_MM + DIFFERENCES_MM[i % DIFFERENCES_MM.length]));
    }
    return text.toString();
  }

  /**
   * What is wrong with a new case.
   *
   * @param tooth FDI number
   * @param canals names of its canals
   * @param operator code of the operator
   * @return one sentence for each mistake
   */
  public static List<String> mistakes(int tooth, List<String> canals, String operator) {
    List<String> mistakes = new ArrayList<>();
    if (!CaseTables.isTooth(tooth)) {
      mistakes.add("--tooth " + tooth + " is not an FDI number: " + CaseTables.TOOTH.text());
    }
    CaseReader.notOperator(operator).ifPresent(why -> mistakes.add("--operator " + why));
    for (String canal : canals) {
      if (!CaseTables.CANAL_NAME.matcher(canal).matches()) {
        mistakes.add("--canal " + canal + " " + CaseTables.NOT_CANAL);
      }
    }
    if (new HashSet<>(canals).size() < canals.size()) {
      mistakes.add("--canal names a canal twice; write 1 and 2 behind the name, as MB1 and MB2");
    }
    return mistakes;
  }

  private static String settings() {
    try (InputStream file = CaseTemplate.class.getResourceAsStream(SETTINGS_FILE)) {
      return new String(Objects.requireNonNull(file).readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
