package org.stopwell.harness.plan;

import java.math.BigDecimal;

/**
 * How a tooth is mounted: what stands for the tissue around its root, as measured on the day.
 *
 * @param medium a word of {@link MountReader#MEDIUM}
 * @param temperatureTenths temperature of medium and tooth, tenths of a °C
 * @param conductivityMillis conductivity of the medium, thousandths of S/m
 * @param ageTenths age of the medium at the first trial, tenths of an hour
 */
public record Mount(String medium, int temperatureTenths, int conductivityMillis, int ageTenths) {
  /**
   * The mount in a few words, for people.
   *
   * @return medium, temperature, conductivity and age
   */
  public String words() {
    return medium
        + " at "
        + decimal(temperatureTenths, 1)
        + " °C, "
        + decimal(conductivityMillis, 3)
        + " S/m, "
        + decimal(ageTenths, 1)
        + " h old";
  }

  /**
   * The nominal temperature that the mount is held at.
   *
   * @return 23 or 35 °C
   */
  public int nominalCelsius() {
    return temperatureTenths < (MountReader.ROOM_TENTHS + MountReader.MOUTH_TENTHS) / 2
        ? MountReader.ROOM_TENTHS / 10
        : MountReader.MOUTH_TENTHS / 10;
  }

  private static String decimal(long value, int decimals) {
    return BigDecimal.valueOf(value, decimals).toPlainString();
  }
}
