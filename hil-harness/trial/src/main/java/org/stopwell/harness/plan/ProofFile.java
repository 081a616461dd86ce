package org.stopwell.harness.plan;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterRow;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.ProofRecord;

/** The newest proof of one bench as a file for people and for {@code run}. */
public final class ProofFile {
  private static final String PROOF = "the proof";

  private static final Parameter PERIOD =
      row("period_ns", "ns", 0, "1000000000000", "Control period of the bench.")
          .required()
          .source(PROOF);
  private static final Parameter SIMULATED =
      Parameter.of("simulated")
          .flag(false)
          .text("Whether a model was proven instead of hardware.")
          .source("the bench");
  private static final Parameter LOCKSTEP =
      Parameter.of("lockstep")
          .flag(false)
          .text("Whether bench time waits for the exchanges.")
          .source("the bench");
  private static final Parameter GAUGE =
      number("gauge_um", "µm", 3, "1000000", "Standard deviation of the gauge study.");
  private static final Parameter FREEDOM =
      number("gauge_freedom", "", 0, "1000000", "Degrees of freedom of its repeats.");
  private static final Parameter STEPS =
      number("lateness_steps", "", 0, "1000000000000", "Number of timed steps of the loop.");
  private static final Parameter MEDIAN =
      lateness("lateness_p50_us", "Lateness that half of the steps do not exceed.");
  private static final Parameter P99 =
      lateness("lateness_p99_us", "Lateness that 99 % of the steps do not exceed.");
  private static final Parameter P999 =
      lateness("lateness_p999_us", "Lateness that 99.9 % of the steps do not exceed.");
  private static final Parameter WORST = lateness("lateness_worst_us", "Greatest lateness.");

  private static final ParameterTable HEAD =
      new ParameterTable(
          List.of(
              Parameter.of("proof")
                  .range("1", "1")
                  .initially("1")
                  .required()
                  .text("File format, always 1.")
                  .source("assumed"),
              PERIOD,
              SIMULATED,
              LOCKSTEP,
              GAUGE,
              FREEDOM,
              STEPS,
              MEDIAN,
              P99,
              P999,
              WORST));

  private static final Set<String> WORDS =
      Set.of("bench", "kind", "firmware", "setup", "date", "due", "findings");
  private static final Set<String> FINDING =
      Set.of("check", "outcome", "measured", "limit", "text");

  private ProofFile() {}

  private static Parameter number(String key, String unit, int decimals, String most, String text) {
    return row(key, unit, decimals, most, text).source(PROOF);
  }

  private static ParameterRow row(String key, String unit, int decimals, String most, String text) {
    return Parameter.of(key).unit(unit, decimals).range("0", most).initially("0").text(text);
  }

  private static Parameter lateness(String key, String text) {
    return number(key, "µs", 3, "1000000000000", text);
  }

  /**
   * Reads and checks the file of a proof.
   *
   * @param source the file
   * @return what it says
   * @throws PlanException with every mistake in it
   */
  public static ProofRecord read(Source source) throws PlanException {
    Mistakes mistakes = new Mistakes(source.name());
    Yaml.Mapping top = source.top(mistakes);
    if (top.entries().isEmpty()) {
      mistakes.throwIfAny();
    }
    ParameterValues v = Sections.resolve(top, "", HEAD, WORDS, mistakes);
    String bench = FreeText.required(top, "bench", mistakes);
    String kind = FreeText.required(top, "kind", mistakes);
    String firmware = FreeText.required(top, "firmware", mistakes);
    String setup = FreeText.optional(top, "setup", mistakes);
    LocalDate date = Dates.required(top, "proof", "date", mistakes);
    LocalDate due = Dates.required(top, "proof", "due", mistakes);
    List<Finding> findings = findings(top, mistakes);
    mistakes.throwIfAny();
    return new ProofRecord(
        new BenchDescription(
            kind,
            bench,
            firmware,
            v.get(SIMULATED) == 1,
            v.get(LOCKSTEP) == 1,
            v.get(PERIOD),
            setup),
        date,
        due,
        findings,
        v.isGiven(GAUGE) ? v.get(GAUGE) : -1,
        v.getInt(FREEDOM),
        new ProofRecord.Lateness(
            v.get(STEPS), v.get(MEDIAN), v.get(P99), v.get(P999), v.get(WORST)));
  }

  private static List<Finding> findings(Yaml.Mapping top, Mistakes mistakes) {
    List<Finding> findings = new ArrayList<>();
    Yaml.Entry list = top.entries().get("findings");
    if (list == null || !(list.value() instanceof Yaml.Items items) || items.items().isEmpty()) {
      mistakes.add(list == null ? top.line() : list.line(), "findings", "missing: a list");
      return findings;
    }
    for (Yaml item : items.items()) {
      if (!(item instanceof Yaml.Mapping one)) {
        mistakes.add(item.line(), "findings", item.notA("a group of keys"));
        continue;
      }
      for (String key : one.entries().keySet()) {
        if (!FINDING.contains(key)) {
          mistakes.add(item.line(), "findings." + key, "unknown key" + Hint.of(key, FINDING));
        }
      }
      String outcome = FreeText.required(one, "outcome", mistakes);
      String check = FreeText.required(one, "check", mistakes);
      for (Finding.Outcome known : Finding.Outcome.values()) {
        if (word(known).equals(outcome)) {
          findings.add(
              new Finding(
                  check,
                  known,
                  FreeText.optional(one, "measured", mistakes),
                  FreeText.optional(one, "limit", mistakes),
                  FreeText.optional(one, "text", mistakes)));
          outcome = "";
        }
      }
      if (!outcome.isEmpty()) {
        mistakes.add(
            item.line(),
            "findings.outcome",
            outcome + " is not one of pass, fail, not done; prove the bench again");
      }
    }
    return findings;
  }

  /**
   * The file that reads as this proof.
   *
   * @param proof what it shall say
   * @return YAML
   */
  public static String text(ProofRecord proof) {
    BenchDescription b = proof.bench();
    StringBuilder out = new StringBuilder();
    out.append("# The newest proof of one bench, written by stopwell rig prove.\n");
    line(out, "proof", "1");
    line(out, "bench", Dates.quoted(b.serialNumber()));
    line(out, "kind", Dates.quoted(b.kind()));
    line(out, "firmware", Dates.quoted(b.firmware()));
    optional(out, "setup", b.setup());
    line(out, "simulated", Boolean.toString(b.simulated()));
    line(out, "lockstep", Boolean.toString(b.lockstep()));
    line(out, "period_ns", Long.toString(b.periodNs()));
    line(out, "date", proof.date().toString());
    line(out, "due", proof.due().toString());
    if (proof.gaugeNanometres() >= 0) {
      line(out, GAUGE.key(), thousandths(proof.gaugeNanometres()));
      line(out, FREEDOM.key(), Integer.toString(proof.gaugeFreedom()));
    }
    line(out, STEPS.key(), Long.toString(proof.lateness().steps()));
    line(out, MEDIAN.key(), thousandths(proof.lateness().medianNs()));
    line(out, P99.key(), thousandths(proof.lateness().p99Ns()));
    line(out, P999.key(), thousandths(proof.lateness().p999Ns()));
    line(out, WORST.key(), thousandths(proof.lateness().worstNs()));
    out.append("findings:\n");
    for (Finding f : proof.findings()) {
      line(out, "  - check", Dates.quoted(f.check()));
      line(out, "    outcome", word(f.outcome()));
      optional(out, "    measured", f.measured());
      optional(out, "    limit", f.limit());
      optional(out, "    text", f.text());
    }
    return out.toString();
  }

  private static void line(StringBuilder out, String key, String value) {
    out.append(key).append(": ").append(value).append('\n');
  }

  private static void optional(StringBuilder out, String key, String text) {
    if (!text.isBlank()) {
      line(out, key, Dates.quoted(text));
    }
  }

  private static String word(Finding.Outcome outcome) {
    return outcome.name().toLowerCase(Locale.ROOT).replace('_', ' ');
  }

  private static String thousandths(long value) {
    return BigDecimal.valueOf(value, 3).toPlainString();
  }
}
