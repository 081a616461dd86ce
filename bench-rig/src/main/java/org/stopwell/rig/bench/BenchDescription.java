package org.stopwell.rig.bench;

/**
 * What a bench is, for the record.
 *
 * @param kind the word given to {@code --bench}
 * @param serialNumber identity of the board or model
 * @param firmware name, version and hash of what runs at the other end
 * @param simulated whether the results come from a model instead of hardware
 * @param lockstep whether bench time waits for the exchanges
 * @param periodNs control period, ns
 * @param setup what is known of this station alone, as {@code key=value} with a space between;
 *     empty for a bench that has no station file
 */
public record BenchDescription(
    String kind,
    String serialNumber,
    String firmware,
    boolean simulated,
    boolean lockstep,
    long periodNs,
    String setup) {
  /**
   * A bench without a station file.
   *
   * @param kind the word given to {@code --bench}
   * @param serialNumber identity of the board or model
   * @param firmware name, version and hash of what runs at the other end
   * @param simulated whether the results come from a model instead of hardware
   * @param lockstep whether bench time waits for the exchanges
   * @param periodNs control period, ns
   */
  public BenchDescription(
      String kind,
      String serialNumber,
      String firmware,
      boolean simulated,
      boolean lockstep,
      long periodNs) {
    this(kind, serialNumber, firmware, simulated, lockstep, periodNs, "");
  }
}
