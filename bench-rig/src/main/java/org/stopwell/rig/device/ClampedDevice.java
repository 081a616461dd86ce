package org.stopwell.rig.device;

/**
 * The device in the clamp, as the plan names it.
 *
 * @param model code of the model
 * @param unit code of the unit of this model
 * @param setting code of its setting
 * @param standoffMicrons distance short of the foramen at which it claims to stop, µm
 * @param battery state of its battery, a word of a closed list
 */
public record ClampedDevice(
    String model, String unit, String setting, int standoffMicrons, String battery) {
  /** In place of a device, the motor of the bench: it turns the file as it is commanded. */
  public static final ClampedDevice MOTOR = new ClampedDevice("motor", "bench", "none", 0, "mains");
}
