package org.stopwell.harness.casework;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.casework.CaseEntry.Filled;
import org.stopwell.harness.casework.CaseEntry.Measured;
import org.stopwell.harness.casework.CaseEntry.Opened;
import org.stopwell.harness.casework.CaseEntry.Radiographed;
import org.stopwell.harness.casework.CaseEntry.Rechecked;
import org.stopwell.harness.casework.CaseEntry.Shaped;

/** A case in short sentences. */
public final class CaseWords {
  private CaseWords() {}

  /**
   * A canal and its files.
   *
   * @param canal the canal
   * @return one line
   */
  public static String canal(CaseCanal canal) {
    StringBuilder files = new StringBuilder();
    for (Stage stage : Stage.values()) {
      if (canal.has(stage)) {
        files.append(", ").append(word(stage)).append(' ').append(canal.file(stage).human());
      }
    }
    return String.format(
        Locale.ROOT,
        "%s: from %s, orifice %s below it; apex %s; files%s",
        canal.name(),
        canal.reference().sentence(),
        mm(canal.offsetMicrons()),
        canal.apex().word(),
        files.substring(1));
  }

  /**
   * An entry of the record.
   *
   * @param recorded the entry
   * @return one line
   */
  public static String entry(RecordedEntry recorded) {
    CaseEntry entry = recorded.entry();
    return recorded.number()
        + " "
        + entry.stamp().date()
        + " "
        + entry.step().word()
        + (entry.stamp().simulated() ? " (simulated): " : ": ")
        + entry.verdict()
        + ", "
        + what(entry)
        + (entry.reason().isEmpty() ? "" : "; " + entry.reason());
  }

  private static String what(CaseEntry entry) {
    if (entry instanceof Opened o) {
      return o.file().human()
          + " rests at "
          + mm(o.restMicrons())
          + " of "
          + mm(o.depthLimitMicrons());
    }
    if (entry instanceof Measured m) {
      return m.file().human() + ", " + m.length().map(CaseWords::length).orElse("no length");
    }
    if (entry instanceof Radiographed r) {
      return word(r.finding())
          + ", tip "
          + mm(Math.abs(r.tipToApexMicrons()))
          + (r.tipToApexMicrons() < 0 ? " past" : " short of")
          + " the radiographic apex";
    }
    if (entry instanceof Shaped s) {
      return s.file().human()
          + " rests at "
          + mm(s.restMicrons())
          + " of "
          + mm(s.depthLimitMicrons());
    }
    if (entry instanceof Rechecked r) {
      return r.file().human()
          + ", length "
          + word(r.change()).replace('_', ' ')
          + " ("
          + signed(r.differenceMicrons())
          + ")";
    }
    Filled f = (Filled) entry;
    return "master cone " + f.coneSize() + ", " + mm(f.coneLengthMicrons());
  }

  /**
   * What a recheck found.
   *
   * @param recheck the recheck
   * @return a sentence without its full stop
   */
  public static String sentence(Rechecked recheck) {
    String difference = signed(recheck.differenceMicrons());
    return switch (recheck.change()) {
      case UNCHANGED ->
          "The recheck found no change beyond ± " + mm(recheck.limitMicrons()) + ": " + difference;
      case CHANGED -> "The recheck found that the length has changed by " + difference;
      case NOT_COMPARABLE -> "The recheck could not be compared with the length";
    };
  }

  /**
   * A length with its uncertainty.
   *
   * @param length the length
   * @return such as {@code 19.70 mm ± 0.12 mm (k = 2.00), 0.50 mm short of the foramen}
   */
  public static String length(CaseLength length) {
    return String.format(
        Locale.ROOT,
        "%s ± %s (k = %.2f) from %s, %s short of the foramen; %d of %d length readings agree",
        mm(length.lengthMicrons()),
        mm(length.uncertaintyMicrons()),
        length.coverageHundredths() / 100.0,
        length.reference().sentence(),
        mm(length.standoffMicrons()),
        length.agreeing(),
        length.taken());
  }

  /**
   * A distance for people.
   *
   * @param microns µm
   * @return such as {@code 19.70 mm}
   */
  public static String mm(int microns) {
    return String.format(Locale.ROOT, "%.2f mm", microns / 1e3);
  }

  /**
   * A difference for people.
   *
   * @param microns µm
   * @return with its sign, such as {@code −0.06 mm}
   */
  public static String signed(int microns) {
    return String.format(Locale.ROOT, "%+.2f mm", microns / 1e3).replace('-', '−');
  }

  /**
   * The word of a constant.
   *
   * @param constant the constant
   * @return in lower case
   */
  public static String word(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT);
  }

  /**
   * An entry for machines, as it stands in the record.
   *
   * @param recorded the entry
   * @return values by key
   */
  public static Map<String, Object> values(RecordedEntry recorded) {
    Map<String, Object> values = new LinkedHashMap<>();
    values.put(RecordCheck.ENTRY, recorded.number());
    values.putAll(EntryText.values(recorded.entry()));
    values.put(RecordCheck.SHA256, recorded.sha256());
    return values;
  }
}
