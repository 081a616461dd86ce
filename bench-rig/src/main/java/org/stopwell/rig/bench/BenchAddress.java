package org.stopwell.rig.bench;

import java.nio.file.Path;
import java.util.Optional;

/**
 * Where and how a bench is reached, as the command line says it.
 *
 * @param periodNs control period that the program asks for, ns
 * @param port serial port of {@code --port}
 * @param drivePort serial port of {@code --drive-port}
 * @param station file of {@code --station}
 * @param bitsPerSecond speed of the serial line, as --baud says
 */
public record BenchAddress(
    long periodNs,
    Optional<String> port,
    Optional<String> drivePort,
    Optional<Path> station,
    int bitsPerSecond) {}
