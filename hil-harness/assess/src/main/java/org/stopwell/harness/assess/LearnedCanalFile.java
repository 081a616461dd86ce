package org.stopwell.harness.assess;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.core.depth.LengthRecord;
import org.stopwell.core.sense.LearnedCanal;
import tools.jackson.core.JacksonException;
import tools.jackson.jr.ob.JSON;

/**
 * A learned canal as a JSON file, with its length record where there is one. The file carries a
 * version and the fingerprint of the weights that made it.
 */
public final class LearnedCanalFile {
  /** Version of the format. */
  public static final int VERSION = 1;

  /** A file longer than this is refused, bytes. */
  private static final long LONGEST = 64 * 1024;

  private static final String FORMAT = "stopwell-learned-canal";

  private LearnedCanalFile() {}

  /**
   * Writes a learned canal.
   *
   * @param file where to; an existing file is replaced
   * @param canal what the controller has learned
   * @param length the length recorded with it, if there is one
   * @throws IOException when it cannot be written
   */
  public static void write(Path file, LearnedCanal canal, Optional<LengthRecord> length)
      throws IOException {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("format", FORMAT);
    all.put("version", VERSION);
    all.put("weights", Long.toHexString(canal.weights()));
    if (length.isPresent()) {
      all.put("length", JSON.std.mapFrom(length.get().toJson()));
    }
    List<Double> numbers = new ArrayList<>();
    for (double number : canal.numbers()) {
      numbers.add(number);
    }
    all.put("numbers", numbers);
    Files.writeString(file, JSON.std.asString(all) + "\n", StandardCharsets.UTF_8);
  }

  /**
   * Reads a learned canal.
   *
   * @param file where from
   * @return the learned canal
   * @throws IOException when it cannot be read or is not a learned canal; the message names every
   *     mistake
   */
  public static LearnedCanal read(Path file) throws IOException {
    if (Files.exists(file) && !Files.isRegularFile(file)) {
      throw new IOException(file + ": is not a regular file");
    }
    long size = Files.size(file);
    if (size > LONGEST) {
      throw new IOException(file + ": " + size + " bytes; a learned canal has at most " + LONGEST);
    }
    Map<String, Object> all;
    try {
      all = JSON.std.mapFrom(Files.readString(file, StandardCharsets.UTF_8));
    } catch (JacksonException e) {
      throw new IOException(file + ": not JSON: " + e.getOriginalMessage(), e);
    }
    List<String> mistakes = new ArrayList<>();
    if (!FORMAT.equals(all.get("format"))) {
      mistakes.add("format is " + all.getOrDefault("format", "missing") + "; it must be " + FORMAT);
    }
    if (!Integer.valueOf(VERSION).equals(all.get("version"))) {
      mistakes.add(
          "version is " + all.getOrDefault("version", "missing") + "; it must be " + VERSION);
    }
    long weights = 0;
    try {
      weights = Long.parseUnsignedLong(String.valueOf(all.get("weights")), 16);
    } catch (NumberFormatException e) {
      mistakes.add(
          "weights is "
              + all.getOrDefault("weights", "missing")
              + "; it must be a hexadecimal number of 64 bits");
    }
    double[] numbers = new double[0];
    if (all.get("numbers") instanceof List<?> list
        && list.stream().allMatch(Number.class::isInstance)) {
      numbers = list.stream().mapToDouble(n -> ((Number) n).doubleValue()).toArray();
    } else {
      mistakes.add("numbers must be a list of numbers");
    }
    if (!mistakes.isEmpty()) {
      throw new IOException(file + ": " + String.join("; ", mistakes));
    }
    try {
      return new LearnedCanal(weights, numbers);
    } catch (IllegalArgumentException e) {
      throw new IOException(file + ": " + e.getMessage(), e);
    }
  }
}
