package org.stopwell.harness.length;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.core.depth.LengthRecord;
import org.stopwell.core.depth.LengthRecord.Radiograph;
import org.stopwell.harness.input.InputFile;
import tools.jackson.core.JacksonException;
import tools.jackson.jr.ob.JSON;

/** A length record as a file for the chart. */
public final class LengthFile {
  /** Largest file, bytes; assumed: a record has less than 4 KiB. */
  private static final long MOST_BYTES = 1 << 20;

  private final Path file;
  private final Map<String, Object> values;
  private final List<String> mistakes = new ArrayList<>();

  private LengthFile(Path file, Map<String, Object> values) {
    this.file = file;
    this.values = values;
  }

  /**
   * Reads a record.
   *
   * @param file what {@link LengthRecord#toJson} wrote
   * @return the record
   * @throws LengthFileException with every mistake
   */
  public static LengthRecord read(Path file) throws LengthFileException {
    try {
      Optional<String> fault = InputFile.fault(file, MOST_BYTES);
      if (fault.isPresent()) {
        throw new LengthFileException(List.of(file + ": " + fault.get()));
      }
      return new LengthFile(file, JSON.std.mapFrom(Files.readString(file))).record();
    } catch (NoSuchFileException e) {
      throw new LengthFileException(List.of(file + ": no such file"));
    } catch (JacksonException e) {
      throw new LengthFileException(List.of(file + ": is not a length record: not JSON"));
    } catch (IOException e) {
      throw new LengthFileException(List.of(file + ": cannot be read: " + InputFile.reason(e)));
    }
  }

  private LengthRecord record() throws LengthFileException {
    int version = whole("length_record", 1, LengthRecord.VERSION);
    String count = version == 1 ? "soundings_" : "readings_";
    LengthRecord record =
        new LengthRecord(
            microns("length_mm", 60_000),
            microns("standoff_mm", 10_000),
            whole(count + "agreeing", 1, 10_000),
            whole(count + "taken", 1, 10_000),
            microns("spread_mm", 60_000),
            text("reference"),
            microns("reference_error_mm", 10_000),
            microns("uncertainty_mm", 60_000),
            whole("file_size", 1, 200),
            radiograph());
    if (!mistakes.isEmpty()) {
      throw new LengthFileException(mistakes);
    }
    return record;
  }

  private int microns(String key, int most) {
    Object value = values.get(key);
    BigDecimal microns =
        value instanceof Number number
            ? new BigDecimal(number.toString()).movePointRight(3)
            : BigDecimal.valueOf(-most - 1L);
    if (!(microns.abs().intValue() <= most)) {
      mistakes.add(
          file
              + ": "
              + key
              + ": "
              + not(key)
              + " a number from -"
              + most / 1_000
              + " to "
              + most / 1_000
              + " mm");
      return 0;
    }
    return microns.intValue();
  }

  private int whole(String key, int least, int most) {
    if (values.get(key) instanceof Integer number && number >= least && number <= most) {
      return number;
    }
    mistakes.add(
        file + ": " + key + ": " + not(key) + " a whole number from " + least + " to " + most);
    return 0;
  }

  private String not(String key) {
    return values.containsKey(key) ? values.get(key) + " is not" : "missing; must be";
  }

  private String text(String key) {
    if (values.get(key) instanceof String text) {
      return text;
    }
    mistakes.add(file + ": " + key + ": " + not(key) + " a text");
    return "";
  }

  private Radiograph radiograph() {
    String word = text("radiograph");
    return Arrays.stream(Radiograph.values())
        .filter(r -> r.word().equals(word))
        .findFirst()
        .orElseGet(
            () -> {
              mistakes.add(
                  file
                      + ": radiograph: "
                      + word
                      + " is not one of not taken, confirms, contradicts");
              return Radiograph.NOT_TAKEN;
            });
  }
}
