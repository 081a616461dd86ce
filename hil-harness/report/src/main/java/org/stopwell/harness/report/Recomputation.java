package org.stopwell.harness.report;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.claim.Repeats;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.evidence.StoppingPath;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Withheld;

/**
 * What a referee can compute again in the page itself, with nothing installed: the trials as data,
 * a name for what each number is, and a script with methods of its own that compares.
 */
final class Recomputation {
  /** The conditions that are expected to stop, those to be refused, and every one. */
  static final String STOP = "stop";

  static final String REFUSE = "refuse";
  static final String ALL = "all";

  private static final String SCRIPT =
      "\n/*<![CDATA[*/\n" + ReportPage.resource("recompute.js") + "\n/*]]>*/";

  private Recomputation() {}

  /** The one script that the page may run, as a source of its content security policy. */
  static String policy() {
    try {
      byte[] hash =
          MessageDigest.getInstance("SHA-256").digest(SCRIPT.getBytes(StandardCharsets.UTF_8));
      return "script-src 'sha256-" + Base64.getEncoder().encodeToString(hash) + "'";
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java machine has SHA-256", e);
    }
  }

  /** A number, and what it is. */
  static Markup number(Markup out, String text, String what) {
    return out.inline("span", Words.tied(text), "data-is", what);
  }

  /** The numbers of one set of conditions and what they are, such as {@code mean stop}. */
  static String of(String statistic, String conditions, Object... arguments) {
    StringBuilder what = new StringBuilder(statistic).append(' ').append(conditions);
    for (Object argument : arguments) {
      what.append(' ').append(argument);
    }
    return what.toString();
  }

  /** A text with its marked numbers. */
  static Markup prose(Markup out, Prose prose) {
    for (Prose.Piece piece : prose.pieces()) {
      if (piece.is().isEmpty()) {
        out.text(Words.tied(piece.text()));
      } else {
        number(out, piece.text(), piece.is());
      }
    }
    return out;
  }

  /** The line with the outcome, the table behind it, the data and the script. */
  static void write(Markup out, Evidence evidence, CampaignSummary summary) {
    out.start("details", "class", "recomputed");
    out.start("summary");
    out.inline(
        "span",
        "A browser that runs scripts computes the numbers of this page again",
        "id",
        "recomputed",
        "role",
        "status");
    out.end();
    out.element(
        "p",
        "The page holds its trials as data, and a script that knows nothing of the program that"
            + " wrote the numbers. It computes each of them again with methods of its own and"
            + " compares the texts. That the trials are those of the run file is for stopwell verify"
            + " and the content hash to say.");
    out.start(
        "div",
        "class",
        "scroll",
        "tabindex",
        "0",
        "role",
        "region",
        "aria-label",
        "Table of recomputed numbers");
    out.start("table", "class", "words")
        .element("caption", "Each number, as printed and as computed in this page.");
    out.start("thead").start("tr");
    for (String head : List.of("Number", "Printed", "Computed here", "Equal")) {
      out.element("th", head, "scope", "col");
    }
    out.end().end().start("tbody", "id", "recomputed-rows").end().end().end().end();
    out.start("script", "type", "application/json", "id", "trials");
    out.trusted(data(evidence, summary)).end();
  }

  /** The script itself, last in the page. */
  static void script(Markup out) {
    out.startInline("script").verbatim(SCRIPT).end();
  }

  /** Numbers and words of closed lists only: nothing that a person wrote. */
  private static String data(Evidence evidence, CampaignSummary summary) {
    RunHeader header = evidence.header();
    List<TrialResult> trials = evidence.trials();
    Repeats repeats = evidence.repeats();
    Map<String, Integer> place = new TreeMap<>();
    List<String> conditions = new ArrayList<>();
    for (Condition c : header.conditions()) {
      place.put(c.name(), conditions.size());
      conditions.add(
          "{\"expect\":\""
              + (c.expectation().stops() ? STOP : c.expectation().name().toLowerCase(Locale.ROOT))
              + "\",\"planned\":"
              + c.plannedTrials()
              + ",\"tolerance\":"
              + c.toleranceMicrons()
              + ",\"past\":"
              + c.overTravelBelowMicrons()
              + "}");
    }
    List<String> claims =
        summary.claims().stream().map(c -> claim(c, summary, place)).collect(Collectors.toList());
    return "{\"conditions\":"
        + conditions
        + ",\n\"claims\":"
        + claims
        + ",\n\"condition\":"
        + compact(trials.stream().map(t -> String.valueOf(place.get(t.condition()))).toList())
        + ",\n\"verdict\":\""
        + trials.stream().map(Recomputation::letter).collect(Collectors.joining())
        + "\",\n\"error\":"
        + compact(
            trials.stream()
                .map(t -> t.stopped() ? Integer.toString(t.stopErrorMicrons()) : "null")
                .toList())
        + ",\n\"deepest\":"
        + compact(trials.stream().map(t -> Integer.toString(t.deepestMicrons())).toList())
        + unstarted(trials)
        + (repeats.any() ? canals(summary, trials, repeats) : "")
        + evidence.path().map(path -> rule(path, evidence, summary)).orElse("")
        + "}";
  }

  /** Trials that neither stopped nor refused, where there are any. */
  private static String unstarted(List<TrialResult> trials) {
    List<String> places = new ArrayList<>();
    for (int i = 0; i < trials.size(); i++) {
      if (trials.get(i).neverStarted()) {
        places.add(Integer.toString(i));
      }
    }
    return places.isEmpty() ? "" : ",\n\"unstarted\":" + compact(places);
  }

  /** The stopping rule, the place of every trial in run order, and every sentinel: good or bad. */
  private static String rule(StoppingPath path, Evidence evidence, CampaignSummary summary) {
    StoppingRule rule = path.rule();
    List<Claim.Endpoint> claims = summary.claims().stream().map(c -> c.claim().endpoint()).toList();
    return ",\n\"rule\":{\"kind\":\""
        + rule.kind().key()
        + "\",\"claim\":"
        + claims.indexOf(path.claim().endpoint())
        + ",\"good\":"
        + rule.goodShare()
        + ",\"power\":"
        + rule.power()
        + ",\"looks\":"
        + rule.looks()
        + ",\"shape\":"
        + rule.shape()
        + ",\"cap\":"
        + path.cap()
        + ",\"sentinels\":"
        + evidence.header().protocol().sentinels().isPresent()
        + "},\n\"index\":"
        + compact(evidence.trials().stream().map(t -> Integer.toString(t.index())).toList())
        + ",\n\"sentinel\":"
        + compact(
            evidence.sentinels().stream()
                .map(p -> "[" + p.trial() + "," + p.broken().isEmpty() + "]")
                .toList());
  }

  /** The canal of every trial, and of every planned one that was not run, as numbers. */
  private static String canals(CampaignSummary summary, List<TrialResult> trials, Repeats repeats) {
    Map<String, String> numbers = new TreeMap<>();
    List<String> run = new ArrayList<>();
    trials.forEach(t -> run.add(number(numbers, repeats.canal(t))));
    List<String> unrun = new ArrayList<>();
    for (ConditionSummary c : summary.conditions()) {
      List<String> own = new ArrayList<>();
      for (int n = c.run(); n < c.condition().plannedTrials(); n++) {
        own.add(number(numbers, repeats.canal(c.condition().name(), n)));
      }
      unrun.add(compact(own));
    }
    return ",\n\"canal\":"
        + compact(run)
        + ",\n\"unrun\":"
        + compact(unrun)
        + ",\n\"correlation\":"
        + repeats.correlation();
  }

  private static String number(Map<String, String> numbers, String canal) {
    String next = Integer.toString(numbers.size());
    return numbers.computeIfAbsent(canal, c -> next);
  }

  /** The verdict: its first letter, or what kept an undecided one from being decided. */
  private static String letter(TrialResult trial) {
    return Withheld.GUARD_BAND.holds(trial)
        ? "G"
        : Withheld.from(trial).isPresent() ? "W" : trial.verdict().name().substring(0, 1);
  }

  private static String claim(
      ClaimOutcome outcome, CampaignSummary summary, Map<String, Integer> place) {
    Claim c = outcome.claim();
    List<Integer> spoken =
        ClaimOutcome.spokenOf(c, summary.conditions()).stream()
            .map(condition -> place.getOrDefault(condition.condition().name(), -1))
            .toList();
    return "{\"endpoint\":\""
        + c.endpoint().key()
        + "\",\"within\":"
        + c.withinMicrons()
        + ",\"share\":"
        + c.share()
        + ",\"confidence\":"
        + c.confidence()
        + ",\"conditions\":"
        + spoken
        + "}";
  }

  private static String compact(List<String> values) {
    return "[" + String.join(",", values) + "]";
  }
}
