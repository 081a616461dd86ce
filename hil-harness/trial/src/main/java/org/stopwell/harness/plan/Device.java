package org.stopwell.harness.plan;

import org.stopwell.rig.device.ClampedDevice;

/**
 * The device under test of a plan with {@code controller: external}. Every text is a code: letters,
 * digits and {@code . _ + -}. A code is no trade name, so that a report can be shown.
 *
 * @param model code of the model
 * @param unit code of the unit of this model
 * @param operator code of the person who runs the device
 * @param firmware its firmware, as the device states it
 * @param setting its setting, as the device shows it
 * @param standoffMicrons distance short of the foramen at which it claims to stop, µm
 * @param battery state of its battery, a word of {@link DeviceReader#BATTERY}
 * @param advances whether the file advances after the stop until an observer sees its tip at the
 *     foramen, which gives the distance at rest
 */
public record Device(
    String model,
    String unit,
    String operator,
    String firmware,
    String setting,
    int standoffMicrons,
    String battery,
    boolean advances) {

  /** A text that nobody stated. */
  public static final String UNSTATED = "unstated";

  /**
   * The device as a bench takes it.
   *
   * @return without what only the record needs
   */
  public ClampedDevice clamped() {
    return new ClampedDevice(model, unit, setting, standoffMicrons, battery);
  }

  /**
   * The device in a few words, for people.
   *
   * @return model and unit
   */
  public String words() {
    return model + ", unit " + unit;
  }
}
