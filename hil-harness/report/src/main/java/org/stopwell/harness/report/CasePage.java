package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseCanal;
import org.stopwell.harness.casework.CaseEntry.Change;
import org.stopwell.harness.casework.CaseEntry.Method;
import org.stopwell.harness.casework.CaseLength;
import org.stopwell.harness.casework.CaseStamp;
import org.stopwell.harness.casework.CaseWords;
import org.stopwell.harness.casework.Filling;
import org.stopwell.harness.casework.RecordCheck;
import org.stopwell.harness.casework.RecordedEntry;
import org.stopwell.harness.casework.StepFile;
import org.stopwell.harness.casework.ToothCase;
import org.stopwell.harness.report.Table.Cell;

/** The record of one tooth on one sheet of paper. */
public final class CasePage {
  private static final Cell NOTHING = Cell.of("–");

  private final ToothCase tooth;
  private final RecordCheck record;

  private CasePage(ToothCase tooth, RecordCheck record) {
    this.tooth = tooth;
    this.record = record;
  }

  /**
   * Writes the page.
   *
   * @param tooth the case
   * @param record its record
   * @param written when the page is written, UTC
   * @return HTML that needs nothing beside it and prints on one sheet
   */
  public static String html(ToothCase tooth, RecordCheck record, String written) {
    CasePage page = new CasePage(tooth, record);
    return Html.text(
        Html.template(
            t ->
                JtecaseGenerated.render(
                    t,
                    Html.NONE,
                    "Tooth " + tooth.tooth(),
                    "Length record. Page of " + written + ", operator " + tooth.operator() + ".",
                    Filling.STANCE,
                    page.simulated(),
                    Look.ofCase(),
                    CasePicture.of(tooth.canals(), record.entries()),
                    Html.table(page.table()),
                    page.notes(),
                    page.chain())));
  }

  /**
   * The page for machines.
   *
   * @param tooth the case
   * @param record its record
   * @param written when the page is written, UTC
   * @return values by key
   */
  public static Map<String, Object> values(ToothCase tooth, RecordCheck record, String written) {
    CasePage page = new CasePage(tooth, record);
    Map<String, Object> values = new LinkedHashMap<>();
    values.put("stance", Filling.STANCE);
    values.put("simulated", !page.simulated().isEmpty());
    values.put("written", written);
    values.put("tooth", tooth.tooth());
    values.put("operator", tooth.operator());
    List<Object> canals = new ArrayList<>();
    for (CaseCanal canal : tooth.canals()) {
      CanalHistory history = CanalHistory.of(record.entries(), canal.name());
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("canal", canal.name());
      one.put("usable", history.doubt().isEmpty());
      one.put("doubt", history.doubt().orElse(""));
      page.counting(history).forEach(e -> one.put(e.entry().step().word(), CaseWords.values(e)));
      canals.add(one);
    }
    values.put("canals", canals);
    values.put("entries", record.entries().size());
    values.put("head", record.head());
    values.put("fault", record.fault().orElse(""));
    return values;
  }

  /** The entries that count for the length that counts, one of each step. */
  private List<RecordedEntry> counting(CanalHistory history) {
    List<Integer> numbers = new ArrayList<>();
    history.opened().ifPresent(f -> numbers.add(f.number()));
    history.measured().ifPresent(f -> numbers.add(f.number()));
    history.radiographed().ifPresent(f -> numbers.add(f.number()));
    history.shaped().ifPresent(f -> numbers.add(f.number()));
    history.rechecked().ifPresent(f -> numbers.add(f.number()));
    history.filled().ifPresent(f -> numbers.add(f.number()));
    return history.entries().stream().filter(e -> numbers.contains(e.number())).toList();
  }

  private String simulated() {
    List<CaseStamp> stamps = record.entries().stream().map(e -> e.entry().stamp()).toList();
    if (stamps.stream().noneMatch(CaseStamp::simulated)) {
      return "";
    }
    return stamps.stream().allMatch(CaseStamp::simulated)
        ? "Every result on this page is simulated."
        : "Results of entries marked “simulated” are simulated.";
  }

  private Table table() {
    Table table = new Table("Lengths from the reference point").columns(Table.LEFT, "");
    table.columns(Table.LEFT, tooth.names().toArray(String[]::new));
    row(table, "Length", CasePage::length);
    row(table, "Use of the length", h -> Optional.of(use(h)));
    row(table, "Reference point", CasePage::reference);
    row(table, "Standoff", h -> h.length().map(l -> Cell.of(CaseWords.mm(l.standoffMicrons()))));
    row(table, "Measured with", CasePage::measuredWith);
    row(table, "Length readings", CasePage::readings);
    row(table, "Radiograph", CasePage::radiograph);
    row(table, "Opened", CasePage::opened);
    row(table, "Shaped", CasePage::shaped);
    row(table, "Recheck", CasePage::recheck);
    row(table, "Proposed filling", CasePage::filling);
    return table;
  }

  private void row(Table table, String name, Function<CanalHistory, Optional<Cell>> cell) {
    List<Cell> cells = new ArrayList<>();
    cells.add(Cell.of(name));
    for (CaseCanal canal : tooth.canals()) {
      cells.add(cell.apply(CanalHistory.of(record.entries(), canal.name())).orElse(NOTHING));
    }
    table.row(cells);
  }

  private static Optional<Cell> length(CanalHistory history) {
    return history
        .length()
        .map(
            l ->
                Cell.of(
                    CaseWords.mm(l.lengthMicrons()),
                    String.format(
                        Locale.ROOT,
                        "± %s (k = %.2f)",
                        CaseWords.mm(l.uncertaintyMicrons()),
                        l.coverageHundredths() / 100.0)));
  }

  private static Optional<Cell> reference(CanalHistory history) {
    return history
        .length()
        .map(
            l ->
                Cell.of(
                    l.reference().sentence(),
                    "orifice " + CaseWords.mm(l.offsetMicrons()) + " below"));
  }

  private static Optional<Cell> measuredWith(CanalHistory history) {
    return history
        .measured()
        .map(m -> m.entry())
        .map(
            m ->
                Cell.of(
                    "file " + m.file().human(),
                    (m.method() == Method.HAND ? "hand file" : "motor") + bench(m.stamp())));
  }

  private static Optional<Cell> readings(CanalHistory history) {
    return history
        .measured()
        .flatMap(
            m ->
                m.entry()
                    .length()
                    .map(
                        l ->
                            Cell.of(
                                l.agreeing() + " of " + l.taken() + " agree",
                                m.entry().stamp().date().substring(0, 10)
                                    + ", operator "
                                    + m.entry().stamp().operator())));
  }

  private static Optional<Cell> radiograph(CanalHistory history) {
    return history
        .radiographed()
        .map(r -> r.entry())
        .map(
            r ->
                Cell.of(
                    CaseWords.word(r.finding()),
                    "tip to radiographic apex " + CaseWords.mm(r.tipToApexMicrons())))
        .or(() -> history.measured().map(m -> Cell.of("not taken")));
  }

  private static Optional<Cell> opened(CanalHistory history) {
    return history
        .opened()
        .map(o -> o.entry())
        .map(
            o ->
                Cell.of(
                    "file " + o.file().human(),
                    o.verdict() + ", to " + CaseWords.mm(o.restMicrons())));
  }

  private static Optional<Cell> shaped(CanalHistory history) {
    return history
        .shaped()
        .map(s -> s.entry())
        .map(
            s ->
                Cell.of(
                    "file " + s.file().human(),
                    s.verdict() + ", to " + CaseWords.mm(s.restMicrons())));
  }

  private static Optional<Cell> recheck(CanalHistory history) {
    return history
        .rechecked()
        .map(r -> r.entry())
        .map(
            r ->
                r.change() == Change.NOT_COMPARABLE
                    ? Cell.of("not comparable", "file " + r.file().human())
                    : Cell.of(
                        r.change() == Change.CHANGED ? "changed" : "not changed",
                        CaseWords.signed(r.differenceMicrons())
                            + ", limit ± "
                            + CaseWords.mm(r.limitMicrons())
                            + "; file "
                            + r.file().human()));
  }

  private static Optional<Cell> filling(CanalHistory history) {
    return history
        .filled()
        .map(f -> f.entry())
        .map(
            f ->
                Cell.of(
                    "cone " + new StepFile(f.coneSize(), f.coneTaperPerMyriad(), "").human(),
                    String.format(
                        Locale.ROOT,
                        "stop %s, volume %.2f mm³",
                        CaseWords.mm(f.coneLengthMicrons()),
                        f.volumeNanolitres() / 1e3)));
  }

  private static Cell use(CanalHistory history) {
    return history
        .doubt()
        .map(why -> Cell.of(history.length().isPresent() ? "do not use" : "none", why))
        .orElseGet(() -> Cell.of("nothing contradicts it"));
  }

  private static String bench(CaseStamp stamp) {
    return ", " + stamp.bench() + " bench" + (stamp.simulated() ? ", simulated" : "");
  }

  /** What counts for every length, each once. */
  private List<String> notes() {
    List<String> notes = new ArrayList<>();
    notes.add(
        "A length is the distance from the reference point to the file's tip at the standoff, the set"
            + " distance short of the foramen. In the picture: upper edge, orifice; thick line, length;"
            + " bracket, ± U; dashed line, foramen. Depths are to scale, widths are not.");
    tooth.canals().stream()
        .flatMap(c -> CanalHistory.of(record.entries(), c.name()).length().stream())
        .map(CaseLength::caveat)
        .distinct()
        .forEach(notes::add);
    record
        .fault()
        .ifPresent(
            fault ->
                notes.add(
                    "The record does not fit from line "
                        + fault
                        + ". Later entries are left out."));
    return notes;
  }

  private String chain() {
    String build =
        record.entries().isEmpty()
            ? ""
            : ", build "
                + record.entries().get(record.entries().size() - 1).entry().stamp().build();
    return record.entries().size()
        + " entries"
        + build
        + ". Head of the record "
        + record.head()
        + ". Check it: stopwell case verify DIR --head "
        + record.head().substring(0, 12);
  }
}
