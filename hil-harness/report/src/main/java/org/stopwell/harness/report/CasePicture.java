package org.stopwell.harness.report;

import static org.stopwell.harness.report.Axis.px;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseCanal;
import org.stopwell.harness.casework.CaseLength;
import org.stopwell.harness.casework.RecordedEntry;
import org.stopwell.harness.casework.StepFile;

/**
 * The canals of a tooth side by side, depths to scale from the reference point of each; widths are
 * exaggerated.
 */
final class CasePicture {
  private static final double HEIGHT = 230;
  private static final double TOP = 34;
  private static final double BOTTOM = HEIGHT - 14;

  /** Ticks of the scale, mm. */
  private static final int TICK_MM = 5;

  /** Depth that is drawn where nothing is measured, mm; assumed. */
  private static final double LEAST_MM = 20;

  /** A canal is drawn so many times as wide as deep; assumed, to be seen. */
  private static final double WIDER = 3;

  /**
   * Diameter of a canal that is not shaped, at its end and growing upwards, mm; for the eye only.
   */
  private static final StepFile UNSHAPED = new StepFile(20, 400, "");

  private final List<CaseCanal> canals;
  private final List<RecordedEntry> entries;
  private final double mostMm;
  private final Drawing drawing;

  private CasePicture(List<CaseCanal> canals, List<RecordedEntry> entries, String description) {
    this.canals = canals;
    this.entries = entries;
    double deepest =
        canals.stream()
            .flatMap(c -> CanalHistory.of(entries, c.name()).length().stream())
            .mapToDouble(l -> (l.foramenMicrons() + l.uncertaintyMicrons()) / 1e3)
            .max()
            .orElse(0);
    mostMm = Math.max(LEAST_MM, deepest) + 1;
    drawing =
        new Drawing("canals", HEIGHT, "Depth of each canal from its reference point", description);
  }

  static Drawing of(List<CaseCanal> canals, List<RecordedEntry> entries) {
    String description =
        canals.stream()
            .map(
                c ->
                    c.name()
                        + ": "
                        + CanalHistory.of(entries, c.name())
                            .length()
                            .map(l -> mm(l.lengthMicrons() / 1e3))
                            .orElse("not measured"))
            .collect(Collectors.joining(", ", "", "."));
    CasePicture picture = new CasePicture(canals, entries, description);
    picture.scale();
    for (int i = 0; i < canals.size(); i++) {
      picture.canal(i);
    }
    return picture.drawing;
  }

  private double y(double depthMm) {
    return TOP + (BOTTOM - TOP) * depthMm / mostMm;
  }

  private void scale() {
    drawing.label("name", "end", 26, TOP - 14, "mm");
    for (int mm = 0; mm < mostMm; mm += TICK_MM) {
      drawing.line("grid", 34, y(mm), Drawing.RIGHT, y(mm));
      drawing.label("tick", "end", 26, y(mm) + 4.5, Integer.toString(mm));
    }
  }

  private void canal(int index) {
    CaseCanal canal = canals.get(index);
    double step = (Drawing.RIGHT - 60) / canals.size();
    double x = 60 + step * (index + 0.26);
    CanalHistory history = CanalHistory.of(entries, canal.name());
    Optional<CaseLength> length = history.length();
    double offset = length.map(CaseLength::offsetMicrons).orElse(canal.offsetMicrons()) / 1e3;
    drawing.label("head", "middle", x, TOP - 14, canal.name());
    drawing.line("bound", x, y(0), x, y(offset));
    drawing.label("note", "start", x + 34, y(offset) + 4, mm(offset));
    if (length.isEmpty()) {
      drawing.label("note", "start", x + 12, y(offset) + 26, "not measured");
      return;
    }
    double foramen = length.get().foramenMicrons() / 1e3;
    StepFile file = history.shaped().map(s -> s.entry().file()).orElse(UNSHAPED);
    double end = history.shaped().map(s -> s.entry().restMicrons() / 1e3).orElse(foramen);
    double perMm = (BOTTOM - TOP) / mostMm * WIDER / 2;
    double narrow = Math.max(1.5, file.size() / 100.0 * perMm);
    double wide = narrow + file.taperPerMyriad() / 1e4 * (end - offset) * perMm;
    drawing.path(
        "fluid",
        "M"
            + px(x - wide)
            + " "
            + px(y(offset))
            + "H"
            + px(x + wide)
            + "L"
            + px(x + narrow)
            + " "
            + px(y(end))
            + "H"
            + px(x - narrow)
            + "z");
    uncertain(x, length.get(), foramen, history.doubt().isPresent());
  }

  /** The recorded length with its uncertainty, and the foramen below it. */
  private void uncertain(double x, CaseLength length, double foramen, boolean doubtful) {
    double at = length.lengthMicrons() / 1e3;
    double half = length.uncertaintyMicrons() / 1e3;
    drawing.line("foramen", x - 22, y(foramen), x + 22, y(foramen));
    drawing.line("spread", x - 16, y(at), x + 16, y(at));
    drawing.line("limit", x + 24, y(at - half), x + 24, y(at + half));
    drawing.line("limit", x + 20, y(at - half), x + 28, y(at - half));
    drawing.line("limit", x + 20, y(at + half), x + 28, y(at + half));
    drawing.label("strong", "start", x + 34, y(at) + 1, mm(at) + (doubtful ? " ?" : ""));
  }

  private static String mm(double mm) {
    return String.format(Locale.ROOT, "%.2f mm", mm);
  }
}
