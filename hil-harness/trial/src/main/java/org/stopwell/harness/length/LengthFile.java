package org.stopwell.harness.length;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import org.stopwell.harness.input.InputFile;
import org.stopwell.harness.length.Radiograph.Finding;
import org.stopwell.harness.stats.ExpandedUncertainty;
import org.stopwell.harness.stats.ExpandedUncertainty.Part;
import tools.jackson.core.JacksonException;
import tools.jackson.jr.ob.JSON;

/** A length record as JSON, which is YAML as well; lengths in mm. */
public final class LengthFile {
  /** Version of the layout. Versions 1 and 2 are still read. */
  public static final int VERSION = 3;

  /** Largest file, bytes; assumed: a record has less than 4 KiB. */
  private static final long MOST_BYTES = 1 << 20;

  private final String place;
  private final Map<String, ?> values;
  private final List<String> mistakes = new ArrayList<>();

  private LengthFile(String place, Map<String, ?> values) {
    this.place = place;
    this.values = values;
  }

  /**
   * Writes a record.
   *
   * @param file where to
   * @param record the record
   * @return the file
   * @throws IOException when it cannot be written
   */
  public static Path write(Path file, LengthRecord record) throws IOException {
    return Files.writeString(
        file, JSON.std.asString(values(record)) + System.lineSeparator(), StandardCharsets.UTF_8);
  }

  /**
   * A record as the values of a JSON object.
   *
   * @param record the record
   * @return values by key
   */
  public static Map<String, Object> values(LengthRecord record) {
    LengthMethod method = record.method();
    Map<String, Object> values = new LinkedHashMap<>();
    values.put("length_record", VERSION);
    if (!method.canal().isEmpty()) {
      values.put("canal", method.canal());
    }
    values.put("length_mm", mm(record.lengthMicrons()));
    values.put("uncertainty_mm", mm(record.uncertaintyMicrons()));
    values.put("coverage", BigDecimal.valueOf(ExpandedUncertainty.COVERAGE));
    values.put(
        "coverage_factor",
        BigDecimal.valueOf(Math.round(record.uncertainty().coverageFactor() * 1e3), 3));
    values.put("degrees_of_freedom", record.uncertainty().freedom());
    values.put("caveat", LengthRecord.CAVEAT);
    if (record.boundMicrons() > 0) {
      values.put("reading_bound_mm", mm(record.boundMicrons()));
    }
    values.put("standoff_mm", mm(record.standoffMicrons()));
    values.put("readings_agreeing", record.agreeing());
    values.put("readings_used", record.used());
    values.put("readings_taken", record.taken());
    values.put("range_mm", mm(method.rangeMicrons()));
    values.put("spread_mm", mm(record.spreadMicrons()));
    values.put("reference", method.reference().point());
    values.put("reference_to_orifice_mm", mm(method.reference().toOrificeMicrons()));
    values.put("reference_error_mm", mm(method.reference().errorMicrons()));
    values.put("depth_by", method.depthBy().word());
    values.put("depth_error_mm", mm(method.depthErrorMicrons()));
    values.put("moved_by", method.movedBy().word());
    values.put("file_size", record.fileSize());
    values.put("radiograph", record.radiograph().finding().word());
    record
        .radiograph()
        .tipToApexMicrons()
        .ifPresent(
            tip -> {
              values.put("tip_to_apex_mm", mm(tip));
              values.put("radiograph_limit_mm", mm(record.radiograph().limitMicrons()));
            });
    record.patencyMicrons().ifPresent(past -> values.put("patency_mm", mm(past)));
    return values;
  }

  private static BigDecimal mm(int microns) {
    return BigDecimal.valueOf(microns, 3);
  }

  /**
   * Reads a record.
   *
   * @param file what {@link #write} wrote
   * @return the record
   * @throws LengthFileException with every mistake
   */
  public static LengthRecord read(Path file) throws LengthFileException {
    try {
      Optional<String> fault = InputFile.fault(file, MOST_BYTES);
      if (fault.isPresent()) {
        throw new LengthFileException(List.of(file + ": " + fault.get()));
      }
      return of(file.toString(), JSON.std.mapFrom(Files.readString(file)));
    } catch (NoSuchFileException e) {
      throw new LengthFileException(List.of(file + ": no such file"));
    } catch (JacksonException e) {
      throw new LengthFileException(List.of(file + ": is not a length record: not JSON"));
    } catch (IOException e) {
      throw new LengthFileException(List.of(file + ": cannot be read: " + InputFile.reason(e)));
    }
  }

  /**
   * A record from the values of a JSON object.
   *
   * @param place where it is, for messages
   * @param values what {@link #values} gave
   * @return the record
   * @throws LengthFileException with every mistake
   */
  public static LengthRecord of(String place, Map<String, ?> values) throws LengthFileException {
    LengthFile file = new LengthFile(place, values);
    LengthRecord record = file.record();
    if (!file.mistakes.isEmpty()) {
      throw new LengthFileException(file.mistakes);
    }
    return record;
  }

  private LengthRecord record() {
    int version = whole("length_record", 1, VERSION);
    boolean old = version < VERSION;
    String count = version == 1 ? "soundings_" : "readings_";
    int agreeing = whole(count + "agreeing", 1, 10_000);
    LengthMethod method =
        new LengthMethod(
            values.containsKey("canal") ? text("canal") : "",
            new ReferencePoint(
                text("reference"),
                old ? 0 : positive("reference_to_orifice_mm", 60_000),
                positive("reference_error_mm", 10_000)),
            old ? DepthBy.AXIS : word("depth_by", DepthBy.values(), DepthBy::word),
            old ? 0 : positive("depth_error_mm", 10_000),
            old ? DepthBy.AXIS.rangeMicrons() : positive("range_mm", 10_000),
            old ? MovedBy.MOTOR : word("moved_by", MovedBy.values(), MovedBy::word));
    return new LengthRecord(
        method,
        microns("length_mm", 60_000),
        microns("standoff_mm", 10_000),
        agreeing,
        old ? agreeing : whole("readings_used", 1, 10_000),
        whole(count + "taken", 1, 10_000),
        positive("spread_mm", 60_000),
        values.containsKey("reading_bound_mm") ? positive("reading_bound_mm", 60_000) : 0,
        old ? formerUncertainty(agreeing, method.reference()) : uncertainty(),
        whole("file_size", 1, 200),
        radiograph(),
        values.containsKey("patency_mm")
            ? OptionalInt.of(microns("patency_mm", 10_000))
            : OptionalInt.empty());
  }

  private ExpandedUncertainty uncertainty() {
    int expanded = positive("uncertainty_mm", 60_000);
    int freedom = whole("degrees_of_freedom", 1, ExpandedUncertainty.MOST_FREEDOM);
    ExpandedUncertainty unit = new ExpandedUncertainty(1, Math.max(1, freedom));
    return new ExpandedUncertainty(expanded / unit.expanded(), unit.freedom());
  }

  /**
   * Versions 1 and 2 state U with k = 2, made of the spread of the readings that agree and the
   * reading of the reference point. The first has one degree of freedom less than readings.
   */
  private ExpandedUncertainty formerUncertainty(int agreeing, ReferencePoint reference) {
    double standard = positive("uncertainty_mm", 60_000) / 2.0;
    Part point = Part.within(reference.errorMicrons());
    double spread =
        Math.sqrt(Math.max(0, standard * standard - point.standard() * point.standard()));
    return ExpandedUncertainty.of(List.of(new Part(spread, Math.max(1, agreeing - 1)), point));
  }

  private int positive(String key, int most) {
    return microns(key, 0, most);
  }

  private int microns(String key, int most) {
    return microns(key, -most, most);
  }

  private int microns(String key, int least, int most) {
    BigDecimal microns =
        values.get(key) instanceof Number number
            ? new BigDecimal(number.toString()).movePointRight(3)
            : BigDecimal.valueOf(least - 1L);
    if (microns.compareTo(BigDecimal.valueOf(least)) < 0
        || microns.compareTo(BigDecimal.valueOf(most)) > 0) {
      mistakes.add(
          place
              + ": "
              + key
              + ": "
              + not(key)
              + " a number from "
              + least / 1_000
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
        place + ": " + key + ": " + not(key) + " a whole number from " + least + " to " + most);
    return 0;
  }

  private String not(String key) {
    return values.containsKey(key) ? values.get(key) + " is not" : "missing; must be";
  }

  private String text(String key) {
    if (values.get(key) instanceof String text) {
      return text;
    }
    mistakes.add(place + ": " + key + ": " + not(key) + " a text");
    return "";
  }

  private <T> T word(String key, T[] all, Function<T, String> word) {
    String said = text(key);
    List<String> words = Arrays.stream(all).map(word).toList();
    int at = words.indexOf(said);
    if (at < 0) {
      mistakes.add(place + ": " + key + ": " + said + " is not one of " + String.join(", ", words));
      return all[0];
    }
    return all[at];
  }

  private Radiograph radiograph() {
    Finding finding = word("radiograph", Finding.values(), Finding::word);
    return values.containsKey("tip_to_apex_mm")
        ? new Radiograph(
            finding,
            OptionalInt.of(microns("tip_to_apex_mm", 60_000)),
            positive("radiograph_limit_mm", 60_000))
        : Radiograph.of(finding);
  }
}
