package org.stopwell.harness.casework;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.TreeSet;
import org.stopwell.harness.casework.CanalHistory.Found;
import org.stopwell.harness.casework.CaseEntry.Opened;
import org.stopwell.harness.casework.CaseEntry.Shaped;
import org.stopwell.harness.trial.Verdict;

/**
 * A proposal for the filling of one canal, with its arithmetic. Bench and teaching; not for use on
 * a person.
 *
 * <p>The canal is what the files have cut: d(z) = D0 + taper · z above the end of the shaping (ISO
 * 3630-1, from memory). Where the canal was wider before, its volume is greater.
 *
 * @param shapedEntry number of the entry of the shaping
 * @param lengthEntry number of the entry of the length
 * @param coneSize tip diameter of the master cone, 1/100 mm
 * @param coneTaperPerMyriad growth of its diameter, 1/10 000 mm per mm
 * @param coneLengthMicrons from the reference point to its tip, µm: where the stop is set
 * @param stopMicrons from its tip to the orifice, where it is cut off, µm
 * @param volumeNanolitres volume of the filling, 1/1000 mm³
 * @param coneNanolitres volume of the master cone below the orifice, 1/1000 mm³
 * @param lines the arithmetic
 * @param notes what the proposal rests on and what it lacks
 */
public record Filling(
    int shapedEntry,
    int lengthEntry,
    int coneSize,
    int coneTaperPerMyriad,
    int coneLengthMicrons,
    int stopMicrons,
    int volumeNanolitres,
    int coneNanolitres,
    List<Line> lines,
    List<String> notes) {

  /** What stands on every proposal. */
  public static final String STANCE = "Bench and teaching. Not for use on a person.";

  /** Sizes of obturating points and files, 1/100 mm; ISO 3630-1 and ISO 6877, from memory. */
  private static final List<Integer> SIZES =
      List.of(
          6, 8, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 70, 80, 90, 100, 110, 120, 130, 140);

  /** Tolerance of the tip diameter of a cone, mm; ISO 6877, from memory. */
  private static final double TIP_TOLERANCE_MM = 0.02;

  /** Copies the lists. */
  public Filling {
    lines = List.copyOf(lines);
    notes = List.copyOf(notes);
  }

  /**
   * One step of the arithmetic.
   *
   * @param what what is computed
   * @param formula with its numbers
   * @param result with its unit
   */
  public record Line(String what, String formula, String result) {}

  /**
   * The proposal for a canal.
   *
   * @param canal the canal
   * @param history what was done in it
   * @param coneTaperPerMyriad taper of the master cone, 1/10 000 mm per mm; empty for that of the
   *     shaping file, which is common practice
   * @param lessMicrons the tip of the cone stays at least so far above the end of the shaping, µm
   * @return the proposal
   * @throws StepRefusedException when the record does not say where to fill to
   */
  public static Filling of(
      CaseCanal canal, CanalHistory history, Optional<Integer> coneTaperPerMyriad, int lessMicrons)
      throws StepRefusedException {
    Optional<String> doubt = history.doubt();
    if (doubt.isPresent()) {
      throw refused(canal, doubt.get());
    }
    if (canal.apex() == ApexState.OPEN) {
      throw refused(
          canal,
          "the apex is open, and nothing holds a master cone there; common practice, from memory,"
              + " is an apical plug");
    }
    Found<Shaped> shaped =
        history
            .shaped()
            .orElseThrow(() -> refused(canal, "the canal was not shaped to this length; shape it"));
    if (shaped.entry().verdict() != Verdict.PASS) {
      throw refused(
          canal,
          "the shaping ended as " + shaped.entry().verdict() + " (entry " + shaped.number() + ")");
    }
    if (shaped.entry().restMicrons() <= canal.offsetMicrons()) {
      throw refused(canal, "the file rested above the orifice");
    }
    return new Work(canal, history, shaped).propose(coneTaperPerMyriad, lessMicrons);
  }

  private static StepRefusedException refused(CaseCanal canal, String why) {
    return new StepRefusedException(canal.name() + ": " + why);
  }

  /** The arithmetic in the order in which a person does it. */
  private static final class Work {
    private final CaseCanal canal;
    private final CanalHistory history;
    private final Found<Shaped> shaped;
    private final StepFile file;
    private final double heightMm;
    private final List<Line> lines = new ArrayList<>();

    Work(CaseCanal canal, CanalHistory history, Found<Shaped> shaped) {
      this.canal = canal;
      this.history = history;
      this.shaped = shaped;
      this.file = shaped.entry().file();
      this.heightMm = (shaped.entry().restMicrons() - canal.offsetMicrons()) / 1e3;
    }

    Filling propose(Optional<Integer> wishedTaper, int lessMicrons) throws StepRefusedException {
      double rest = shaped.entry().restMicrons() / 1e3;
      double offset = canal.offsetMicrons() / 1e3;
      double taper = file.taperPerMyriad() / 1e4;
      add("depth of the shaping", "entry " + shaped.number(), "%.2f mm", rest);
      add("height of the filling", text("%.2f − %.2f", rest, offset), "%.2f mm", heightMm);
      double tip = file.size() / 100.0;
      add("diameter at the end", text("D0 = %d / 100", file.size()), "%.3f mm", tip);
      add(
          "diameter at the orifice",
          text("D0 + taper · z = %.3f + %s · %.2f", tip, file.taper(), heightMm),
          "%.3f mm",
          tip + taper * heightMm);
      double volume = volume();

      int coneTaper = wishedTaper.orElse(file.taperPerMyriad());
      if (coneTaper > file.taperPerMyriad()) {
        throw refused(
            canal,
            "a cone of taper "
                + new StepFile(0, coneTaper, "").taper()
                + " has more taper than the canal, "
                + file.taper()
                + ", and would bind at the orifice");
      }
      double least = tip + taper * lessMicrons / 1e3;
      int size = SIZES.stream().filter(s -> s / 100.0 >= least - 1e-9).findFirst().orElse(140);
      double above = taper > 0 ? Math.max(0, (size / 100.0 - tip) / taper) : 0;
      add("size of the master cone", text("first size of at least %.3f mm", least), "%d", size);
      add(
          "its tip above the end",
          taper > 0 ? text("(%.2f − %.2f) / %s", size / 100.0, tip, file.taper()) : "",
          "%.2f mm",
          above);
      double coneLength = rest - above;
      double cut = heightMm - above;
      add(
          "stop on the cone, from its tip to the reference point",
          text("%.2f − %.2f", rest, above),
          "%.2f mm",
          coneLength);
      add("cut at the orifice, from its tip", text("%.2f − %.2f", heightMm, above), "%.2f mm", cut);
      Frustum cone = new Frustum(file, 0, cut, size / 100.0, size / 100.0 + coneTaper / 1e4 * cut);
      add("volume of the cone", cone.arithmetic(), "%.3f mm³", cone.volumeMm3());
      add(
          "left for sealer and further cones",
          text("%.3f − %.3f", volume, cone.volumeMm3()),
          "%.3f mm³",
          Math.max(0, volume - cone.volumeMm3()));
      if (taper > 0) {
        add(
            "a tip that is 0.02 mm wider binds higher by",
            text("%.2f / %s", TIP_TOLERANCE_MM, file.taper()),
            "%.2f mm",
            TIP_TOLERANCE_MM / taper);
      }
      return new Filling(
          shaped.number(),
          history.measured().orElseThrow().number(),
          size,
          coneTaper,
          (int) Math.round(coneLength * 1e3),
          (int) Math.round(cut * 1e3),
          (int) Math.round(volume * 1e3),
          (int) Math.round(cone.volumeMm3() * 1e3),
          lines,
          notes(wishedTaper.isEmpty()));
    }

    private double volume() {
      List<Frustum> slices = slices();
      double sum = 0;
      for (Frustum slice : slices) {
        sum += slice.volumeMm3();
        add(
            slices.size() == 1
                ? "volume, a frustum"
                : text(
                    "volume from %.2f to %.2f mm, cut by %s",
                    slice.fromMm(), slice.toMm(), slice.file().human()),
            slice.arithmetic(),
            "%.3f mm³",
            slice.volumeMm3());
      }
      if (slices.size() > 1) {
        add("volume of the filling", "sum", "%.3f mm³", sum);
      }
      return sum;
    }

    /** The canal as the wider of the two files has cut it at every height. */
    private List<Frustum> slices() {
      Optional<Opened> opened = history.opened().map(Found::entry);
      TreeSet<Double> heights = new TreeSet<>(List.of(0.0, heightMm));
      opened.ifPresent(
          o -> {
            double begin = begin(o);
            heights.add(begin);
            double steeper = (o.file().taperPerMyriad() - file.taperPerMyriad()) / 1e4;
            double wider = at(file, begin) - o.file().size() / 100.0;
            if (steeper != 0) {
              heights.add(begin + wider / steeper);
            }
          });
      List<Frustum> slices = new ArrayList<>();
      double from = 0;
      for (double to : heights) {
        if (to > from + 1e-9 && to <= heightMm) {
          Frustum next = slice(opened, from, to);
          Frustum last = slices.isEmpty() ? next : slices.get(slices.size() - 1);
          boolean same = !slices.isEmpty() && last.file().equals(next.file());
          if (same) {
            slices.set(
                slices.size() - 1,
                new Frustum(last.file(), last.fromMm(), to, last.lowerMm(), next.upperMm()));
          } else {
            slices.add(next);
          }
          from = to;
        }
      }
      return slices;
    }

    private Frustum slice(Optional<Opened> opened, double from, double to) {
      double middle = (from + to) / 2;
      Optional<Opened> wider =
          opened.filter(
              o -> middle > begin(o) && at(o.file(), middle - begin(o)) > at(file, middle));
      StepFile by = wider.map(Opened::file).orElse(file);
      double below = wider.map(this::begin).orElse(0.0);
      return new Frustum(by, from, to, at(by, from - below), at(by, to - below));
    }

    /** Where the tip of the opener was, above the end of the shaping, mm. */
    private double begin(Opened opened) {
      return Math.max(0, (shaped.entry().restMicrons() - opened.deepestMicrons()) / 1e3);
    }

    private static double at(StepFile file, double heightMm) {
      return file.size() / 100.0 + file.taperPerMyriad() / 1e4 * heightMm;
    }

    private List<String> notes(boolean matched) {
      List<String> notes = new ArrayList<>();
      notes.add(
          matched
              ? "The cone has size and taper of the last shaping file: common practice."
              : "The cone has less taper than the canal; the rest is for further cones or sealer.");
      notes.add(
          "Sizes and the tolerance of ±0.02 mm are those of obturating points, ISO 6877, from"
              + " memory.");
      notes.add(
          "The canal is what the files have cut; where it was wider before, the volume is"
              + " greater.");
      notes.add(
          history
              .radiographed()
              .map(r -> "The radiograph confirms the length (entry " + r.number() + ").")
              .orElse("No radiograph of this length is recorded."));
      notes.add(
          history
              .rechecked()
              .map(r -> CaseWords.sentence(r.entry()) + " (entry " + r.number() + ").")
              .orElse("The length was not rechecked."));
      if (canal.apex() == ApexState.RESORBED) {
        notes.add("The apex is resorbed: the end of the canal may be wider than the file.");
      }
      return notes;
    }

    private void add(String what, String formula, String result, Object value) {
      lines.add(new Line(what, formula, text(result, value)));
    }

    private static String text(String format, Object... values) {
      return String.format(Locale.ROOT, format, values);
    }
  }

  /**
   * The proposal as an entry of the record.
   *
   * @param stamp date, operator and build
   * @return the entry
   */
  public CaseEntry.Filled entry(CaseStamp stamp) {
    return new CaseEntry.Filled(
        stamp,
        shapedEntry,
        lengthEntry,
        coneSize,
        coneTaperPerMyriad,
        coneLengthMicrons,
        stopMicrons,
        volumeNanolitres,
        Verdict.PASS,
        "");
  }
}
