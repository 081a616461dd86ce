package org.stopwell.rig.bench;

/**
 * What a bench is, for the record.
 *
 * @param kind the word given to {@code --bench}
 * @param serialNumber identity of the board or model
 * @param firmware name, version and hash of what runs at the other end
 * @param simulated whether the results come from a model rather than from matter
 * @param lockstep whether bench time waits for the exchanges
 * @param periodNs control period, ns
 */
public record BenchDescription(
    String kind,
    String serialNumber,
    String firmware,
    boolean simulated,
    boolean lockstep,
    long periodNs) {}
