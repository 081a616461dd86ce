package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.CaseWords;
import org.stopwell.harness.casework.Filling;
import org.stopwell.harness.casework.RecordedEntry;
import org.stopwell.harness.casework.StepFile;
import org.stopwell.harness.report.TextTable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Proposes the filling of a canal. */
@Command(
    name = "fill",
    description = {
      "Proposes the filling of a shaped canal as a worked example: size, length and stop of the"
          + " master cone, and the volume, with the arithmetic line by line. Adds the proposal to"
          + " the record.",
      "Bench and teaching. Not for use on a person.",
      "",
      "Exit codes: 0 proposed; 5 the length is missing, the radiograph contradicts it, the recheck"
          + " found a change, or the canal was not shaped to it."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell case fill tooth-36 MB",
      "  stopwell case fill tooth-36 MB --cone-taper 0.02 --less-mm 0.5"
    },
    mixinStandardHelpOptions = true)
final class CaseFillCommand extends StopwellCommand {
  @Parameters(index = "0", paramLabel = "DIR", description = "Directory of the case.")
  Path directory = Path.of("");

  @Parameters(index = "1", paramLabel = "CANAL", description = "Name of the canal.")
  String canal = "";

  @Mixin OperatorOption operator = new OperatorOption();

  @Option(
      names = "--cone-taper",
      paramLabel = "TAPER",
      description = "Taper of the master cone, mm per mm. Default: the taper of the shaping file.")
  @Nullable Double coneTaper;

  @Option(
      names = "--less-mm",
      paramLabel = "MM",
      description =
          "Least distance of the cone's tip above the end of the shaping, mm. Default:"
              + " ${DEFAULT-VALUE}.",
      defaultValue = "0")
  double lessMm;

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    if (coneTaper != null && !(coneTaper >= 0 && coneTaper <= 0.12)) {
      throw new UsageException("--cone-taper " + coneTaper + " is outside 0 to 0.12");
    }
    Optional<Integer> taper = Optional.ofNullable(coneTaper).map(t -> (int) Math.round(t * 10_000));
    OpenCase open = OpenCase.read(directory, canal);
    String who = operator.of(open.tooth());
    try (CaseRecord record = CaseRecord.open(directory)) {
      CanalHistory history = record.history(canal);
      Filling filling =
          Filling.of(open.canal(), history, taper, OpenCase.microns("--less-mm", lessMm));
      boolean simulated = history.shaped().orElseThrow().entry().stamp().simulated();
      RecordedEntry entry = record.append(filling.entry(open.stamp(who, simulated)));
      json.print(
          out(), values(filling, entry), line -> lines(open, filling, entry, simulated, line));
    }
    return 0;
  }

  private void lines(
      OpenCase open,
      Filling filling,
      RecordedEntry entry,
      boolean simulated,
      Consumer<String> out) {
    out.accept(
        "tooth "
            + open.tooth().tooth()
            + ", canal "
            + open.canal().name()
            + ": proposal for the filling"
            + (simulated ? ", simulated" : ""));
    out.accept(Filling.STANCE);
    out.accept("");
    TextTable table = new TextTable("llr");
    filling.lines().forEach(l -> table.row(l.what(), l.formula(), l.result()));
    table.print(out);
    out.accept("");
    out.accept(sentence(filling));
    filling.notes().forEach(out);
    out.accept("entry " + entry.number() + " of " + directory.resolve(CaseRecord.FILE));
  }

  private static String sentence(Filling filling) {
    return "Master cone "
        + new StepFile(filling.coneSize(), filling.coneTaperPerMyriad(), "").human()
        + ", stop at "
        + CaseWords.mm(filling.coneLengthMicrons())
        + ", cut at "
        + CaseWords.mm(filling.stopMicrons())
        + " from its tip; volume of the filling "
        + String.format(Locale.ROOT, "%.2f mm³.", filling.volumeNanolitres() / 1e3);
  }

  private static Map<String, Object> values(Filling filling, RecordedEntry entry) {
    Map<String, Object> values = new LinkedHashMap<>(CaseWords.values(entry));
    values.put("stance", Filling.STANCE);
    values.put(
        "arithmetic",
        filling.lines().stream().map(l -> List.of(l.what(), l.formula(), l.result())).toList());
    values.put("notes", filling.notes());
    return values;
  }
}
