package org.stopwell.harness.casework;

import static org.stopwell.harness.length.Radiograph.NOT_TAKEN;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Predicate;
import org.stopwell.harness.casework.CaseEntry.Change;
import org.stopwell.harness.casework.CaseEntry.Filled;
import org.stopwell.harness.casework.CaseEntry.Finding;
import org.stopwell.harness.casework.CaseEntry.Measured;
import org.stopwell.harness.casework.CaseEntry.Method;
import org.stopwell.harness.casework.CaseEntry.Opened;
import org.stopwell.harness.casework.CaseEntry.Radiographed;
import org.stopwell.harness.casework.CaseEntry.Rechecked;
import org.stopwell.harness.casework.CaseEntry.Shaped;
import org.stopwell.harness.length.LengthRecord;
import org.stopwell.harness.length.MovedBy;
import org.stopwell.harness.length.Radiograph;

/**
 * What was done in one canal. The latest length counts. A radiograph, a shaping and a recheck count
 * for the length that they name, so a new measurement leaves them behind.
 */
public final class CanalHistory {
  private final List<RecordedEntry> entries;

  private CanalHistory(List<RecordedEntry> entries) {
    this.entries = entries;
  }

  /**
   * The history of a canal.
   *
   * @param entries the entries of a record
   * @param canal the canal
   * @return its entries
   */
  public static CanalHistory of(List<RecordedEntry> entries, String canal) {
    return new CanalHistory(
        entries.stream().filter(e -> e.entry().stamp().canal().equals(canal)).toList());
  }

  /**
   * Every entry of the canal.
   *
   * @return in the order in which they were added
   */
  public List<RecordedEntry> entries() {
    return List.copyOf(entries);
  }

  /**
   * One entry of a kind, with its number.
   *
   * @param <E> the kind
   * @param number its number in the record
   * @param entry what was done
   */
  public record Found<E extends CaseEntry>(int number, E entry) {}

  /**
   * The latest entry of a kind.
   *
   * @param <E> the kind
   * @param kind the kind, such as {@code Opened.class}
   * @return empty when the step was not done
   */
  public <E extends CaseEntry> Optional<Found<E>> latest(Class<E> kind) {
    return latest(kind, e -> true);
  }

  private <E extends CaseEntry> Optional<Found<E>> latest(Class<E> kind, Predicate<E> which) {
    for (int i = entries.size() - 1; i >= 0; i--) {
      RecordedEntry recorded = entries.get(i);
      if (kind.isInstance(recorded.entry()) && which.test(kind.cast(recorded.entry()))) {
        return Optional.of(new Found<>(recorded.number(), kind.cast(recorded.entry())));
      }
    }
    return Optional.empty();
  }

  /**
   * The latest opening.
   *
   * @return empty when the canal was not opened
   */
  public Optional<Found<Opened>> opened() {
    return latest(Opened.class);
  }

  /**
   * The latest measurement that gave a length.
   *
   * @return empty when there is no length
   */
  public Optional<Found<Measured>> measured() {
    return latest(Measured.class, m -> m.length().isPresent());
  }

  /**
   * The length that counts.
   *
   * @return empty when there is none
   */
  public Optional<CaseLength> length() {
    return measured().flatMap(m -> m.entry().length());
  }

  /**
   * The length that counts, to compare another with.
   *
   * @return with what its latest radiograph says; empty when there is none
   */
  public Optional<LengthRecord> lengthRecord() {
    return measured()
        .map(Found::entry)
        .map(
            m ->
                m.length()
                    .orElseThrow()
                    .record(
                        m.stamp().canal(),
                        m.file(),
                        m.method() == Method.HAND ? MovedBy.HAND_FILE : MovedBy.MOTOR,
                        radiographed().map(r -> radiograph(r.entry())).orElse(NOT_TAKEN)));
  }

  private static Radiograph radiograph(Radiographed entry) {
    return new Radiograph(
        entry.finding() == Finding.CONTRADICTS
            ? Radiograph.Finding.CONTRADICTS
            : Radiograph.Finding.CONFIRMS,
        OptionalInt.of(entry.tipToApexMicrons()),
        entry.limitMicrons());
  }

  /**
   * The latest radiograph of the length that counts.
   *
   * @return empty when none was taken
   */
  public Optional<Found<Radiographed>> radiographed() {
    return latest(Radiographed.class, r -> r.lengthEntry() == lengthEntry());
  }

  /**
   * The latest shaping by the length that counts.
   *
   * @return empty when the canal was not shaped
   */
  public Optional<Found<Shaped>> shaped() {
    return latest(Shaped.class, s -> s.lengthEntry() == lengthEntry());
  }

  /**
   * The latest recheck of the length that counts.
   *
   * @return empty when there is none
   */
  public Optional<Found<Rechecked>> rechecked() {
    return latest(Rechecked.class, r -> r.lengthEntry() == lengthEntry());
  }

  /**
   * The latest proposal of a filling for the length that counts.
   *
   * @return empty when there is none
   */
  public Optional<Found<Filled>> filled() {
    return latest(Filled.class, f -> f.lengthEntry() == lengthEntry());
  }

  /**
   * Why the length that counts must not be used.
   *
   * @return one sentence; empty when nothing contradicts it
   */
  public Optional<String> doubt() {
    if (measured().isEmpty()) {
      return Optional.of("no length is recorded; measure first");
    }
    if (radiographed().filter(r -> r.entry().finding() == Finding.CONTRADICTS).isPresent()) {
      return Optional.of("the radiograph contradicts the length; measure again");
    }
    if (rechecked().filter(r -> r.entry().change() == Change.CHANGED).isPresent()) {
      return Optional.of("the recheck found that the length has changed; measure again");
    }
    return Optional.empty();
  }

  /** The number of the entry of the length that counts; 0 where there is none. */
  private int lengthEntry() {
    return measured().map(Found::number).orElse(0);
  }
}
