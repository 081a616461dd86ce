package org.stopwell.harness.casework;

import java.math.BigDecimal;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.ParameterValues;

/**
 * The file of a step.
 *
 * @param size tip diameter, 1/100 mm
 * @param taperPerMyriad growth of the diameter, 1/10 000 mm per mm
 * @param alloy material, as the settings write it
 */
public record StepFile(int size, int taperPerMyriad, String alloy) {

  /**
   * The file of a section of the settings.
   *
   * @param file its values
   * @return size, taper and alloy
   */
  public static StepFile of(ParameterValues file) {
    return new StepFile(
        file.getInt(FileParameters.SIZE),
        file.getInt(FileParameters.TAPER),
        file.choice(FileParameters.ALLOY));
  }

  /**
   * Size and taper as people write them.
   *
   * @return such as {@code 25/0.06}
   */
  public String human() {
    return size + "/" + taper();
  }

  /**
   * Growth of the diameter.
   *
   * @return mm per mm, with at least two decimals, such as {@code 0.06}
   */
  public String taper() {
    BigDecimal taper = BigDecimal.valueOf(taperPerMyriad, 4).stripTrailingZeros();
    return taper.setScale(Math.max(2, taper.scale())).toPlainString();
  }
}
