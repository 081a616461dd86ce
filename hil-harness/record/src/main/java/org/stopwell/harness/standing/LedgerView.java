package org.stopwell.harness.standing;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.harness.protocol.Deviation;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.RunHeader;
import tools.jackson.core.JacksonException;
import tools.jackson.jr.ob.JSON;

/**
 * What the ledger says of a run when its report is made. The run directory keeps it, so that the
 * report can be made again without the ledger.
 *
 * @param number number of the run under its frozen plan, from 1; 0 without a ledger
 * @param others the other runs under the same frozen plan
 * @param faults what is wrong with the ledger, one sentence each
 * @param elsewhere runs of plans with the same name under another freeze
 */
public record LedgerView(int number, List<Other> others, List<String> faults, int elsewhere) {
  /** Name of the file in the run directory. */
  public static final String NAME = "ledger-seen.json";

  /** A plan that is not frozen. */
  public static final LedgerView NONE = new LedgerView(0, List.of(), List.of(), 0);

  /** Largest file, bytes; assumed. */
  private static final long MOST_BYTES = 16 << 20;

  /** Deviations and other runs by name at most; the report's section on the protocol has all. */
  private static final int SHOWN = 5;

  /**
   * Another run.
   *
   * @param number its number under the frozen plan
   * @param run name of its directory
   * @param fate what became of it
   */
  public record Other(int number, String run, String fate) {}

  /** Takes copies. */
  public LedgerView {
    others = List.copyOf(others);
    faults = List.copyOf(faults);
  }

  /**
   * What a run directory keeps.
   *
   * @param run the run directory
   * @param header the header of its run file
   * @return {@link #NONE} for a plan that is not frozen
   */
  public static LedgerView kept(Path run, RunHeader header) {
    Registration frozen = header.registration();
    if (!frozen.isFrozen()) {
      return NONE;
    }
    if (frozen.number() == 0) {
      return fault(0, "No ledger names this run: its run file has no place in one.");
    }
    Path file = run.resolve(NAME);
    try {
      if (!Files.isRegularFile(file) || Files.size(file) > MOST_BYTES) {
        return fault(
            frozen.number(),
            "The other runs are unknown: " + NAME + " is missing beside the run file.");
      }
      Map<String, Object> all =
          JSON.std.mapFrom(new String(Files.readAllBytes(file), StandardCharsets.UTF_8));
      List<Other> others = new ArrayList<>();
      if (all.get("others") instanceof List<?> list) {
        for (Object one : list) {
          if (one instanceof Map<?, ?> o && o.get("number") instanceof Number n) {
            others.add(
                new Other(
                    n.intValue(), String.valueOf(o.get("run")), String.valueOf(o.get("fate"))));
          }
        }
      }
      List<String> faults = new ArrayList<>();
      if (all.get("faults") instanceof List<?> list) {
        list.forEach(f -> faults.add(String.valueOf(f)));
      }
      int elsewhere = all.get("elsewhere") instanceof Number n ? n.intValue() : 0;
      return new LedgerView(frozen.number(), others, faults, elsewhere);
    } catch (IOException | JacksonException e) {
      return fault(frozen.number(), "The other runs are unknown: " + NAME + " cannot be read.");
    }
  }

  private static LedgerView fault(int number, String why) {
    return new LedgerView(number, List.of(), List.of(why), 0);
  }

  /** Where the ledger does not name this run, what was kept says more of the others. */
  LedgerView orKept(LedgerView kept) {
    return others.isEmpty() && !faults.isEmpty()
        ? new LedgerView(number, kept.others(), faults, kept.elsewhere())
        : this;
  }

  void keep(Path run) throws IOException {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("number", number);
    List<Map<String, Object>> list = new ArrayList<>();
    for (Other other : others) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("number", other.number());
      one.put("run", other.run());
      one.put("fate", other.fate());
      list.add(one);
    }
    all.put("others", list);
    all.put("faults", faults);
    all.put("elsewhere", elsewhere);
    Path file = run.resolve(NAME);
    Path aside = run.resolve(NAME + ".new");
    try {
      Files.write(aside, (JSON.std.asString(all) + "\n").getBytes(StandardCharsets.UTF_8));
      Files.move(aside, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (IOException e) {
      throw RunFileException.disk(file, e);
    }
  }

  /**
   * The place of the run, such as {@code Run 3 under this frozen plan. Run 1 (first-001): FAIL.}
   *
   * @return one line, empty without a ledger
   */
  public String place() {
    if (number == 0) {
      return "";
    }
    StringBuilder text = new StringBuilder("Run " + number + " under this frozen plan.");
    if (others.isEmpty() && faults.isEmpty()) {
      text.append(" The ledger names no other.");
    }
    for (Other other : others.subList(0, Math.min(SHOWN, others.size()))) {
      text.append(" Run ").append(other.number());
      text.append(" (").append(other.run()).append("): ").append(other.fate()).append('.');
    }
    if (others.size() > SHOWN) {
      text.append(" And ").append(others.size() - SHOWN).append(" more in the ledger.");
    }
    if (elsewhere > 0) {
      text.append(" Under another freeze, the ledger names ")
          .append(elsewhere)
          .append(elsewhere == 1 ? " run" : " runs")
          .append(" of a plan of this name.");
    }
    return text.toString();
  }

  /**
   * What a reader of the verdict must know first.
   *
   * @param frozen the freeze and its deviations
   * @return deviations and faults, one sentence each; none for a run as frozen
   */
  public List<String> warnings(Registration frozen) {
    List<String> all = new ArrayList<>();
    List<Deviation> deviations = frozen.deviations();
    if (!deviations.isEmpty()) {
      all.add(
          "Not as frozen: "
              + deviations.size()
              + (deviations.size() == 1 ? " deviation" : " deviations")
              + " from the frozen plan. "
              + String.join(
                  "; ", deviations.stream().limit(SHOWN).map(LedgerView::shortened).toList())
              + (deviations.size() > SHOWN ? "; and more." : "."));
    }
    all.addAll(faults);
    return all;
  }

  /** A deviation can be a whole section of a plan. */
  private static String shortened(Deviation deviation) {
    String sentence = deviation.sentence();
    return sentence.length() > 200 ? sentence.substring(0, 200) + "…" : sentence;
  }
}
