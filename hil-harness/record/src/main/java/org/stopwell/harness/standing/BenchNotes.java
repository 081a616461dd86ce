package org.stopwell.harness.standing;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;
import org.stopwell.harness.budget.StopBudget;
import org.stopwell.harness.plan.CalibrationFile;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.ProofFile;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.ToothZeroNote;
import org.stopwell.harness.record.RunFile.Note;
import org.stopwell.rig.calibration.Calibrations;

/** What the notes of a run file hold of the bench. */
public final class BenchNotes {
  /** Kind of the note that holds the calibrations in force. */
  public static final String CALIBRATION = "calibration";

  /** Kind of the note that holds the proof in force. */
  public static final String PROOF = "proof";

  /** Kind of the note that says why verdicts are withheld. */
  public static final String WITHHELD = "withheld";

  /** Kind of the note that says that the records could not be read when the campaign ended. */
  public static final String UNREADABLE = "unreadable";

  private BenchNotes() {}

  /**
   * The newest note of a kind.
   *
   * @param notes the notes of a run file, oldest first
   * @param kind the kind
   * @return its text; empty when there is none
   */
  public static Optional<String> newest(List<Note> notes, String kind) {
    return notes.stream()
        .filter(n -> n.kind().equals(kind))
        .map(Note::text)
        .reduce((earlier, later) -> later);
  }

  /**
   * The true zeros that were read at the bench.
   *
   * @param notes the notes of a run file
   * @return what was read, by the name of the tooth
   */
  public static Map<String, ToothZeroNote> zeros(List<Note> notes) {
    Map<String, ToothZeroNote> zeros = new LinkedHashMap<>();
    notes.stream()
        .filter(n -> n.kind().equals(ToothZeroNote.KIND))
        .flatMap(n -> ToothZeroNote.read(n.text()).stream())
        .forEach(z -> zeros.put(z.tooth(), z));
    return zeros;
  }

  /**
   * The worst of the true zeros that were read at the bench.
   *
   * @param notes the notes of a run file
   * @return its standard uncertainty, µm; empty where none was read
   */
  public static OptionalDouble zeroMicrons(List<Note> notes) {
    return zeros(notes).values().stream()
        .flatMap(z -> z.zero().stream())
        .mapToDouble(StopBudget::standard)
        .max();
  }

  /**
   * What a note says, value by value.
   *
   * @param kind {@link #CALIBRATION} or {@link #PROOF}
   * @param text its text
   * @return the records in it
   * @throws PlanException when this build cannot read them
   */
  public static Map<String, String> items(String kind, String text) throws PlanException {
    return kind.equals(CALIBRATION)
        ? RecordItems.of(CalibrationFile.read(new Source(kind, text)), null)
        : RecordItems.of(new Calibrations("", List.of()), ProofFile.read(new Source(kind, text)));
  }

  /**
   * What was on record of the bench when a run ended.
   *
   * @param notes the notes of its run file
   * @return value by value; none where the run file holds no records
   * @throws PlanException when this build cannot read them
   */
  public static SortedMap<String, String> items(List<Note> notes) throws PlanException {
    SortedMap<String, String> items = new TreeMap<>();
    for (String kind : List.of(CALIBRATION, PROOF)) {
      Optional<String> text = newest(notes, kind);
      if (text.isPresent()) {
        items.putAll(items(kind, text.get()));
      }
    }
    return items;
  }
}
