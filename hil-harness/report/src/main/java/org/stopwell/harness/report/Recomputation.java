package org.stopwell.harness.report;

import gg.jte.Content;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.Base64;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.claim.Repeats;
import org.stopwell.harness.evidence.StoppingPath;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Withheld;
import tools.jackson.jr.ob.JSON;

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

  /** The script itself, last in the page. */
  static String script() {
    return SCRIPT;
  }

  /** What a number of one set of conditions is, such as {@code mean stop}. */
  static String is(String statistic, String conditions, Object... arguments) {
    StringBuilder what = new StringBuilder(statistic).append(' ').append(conditions);
    for (Object argument : arguments) {
      what.append(' ').append(argument);
    }
    return what.toString();
  }

  /** The line with the outcome, the table behind it, and the data. */
  static Optional<Content> of(Report report) {
    String data = JSON.std.asString(data(report));
    return Optional.of(Html.template(t -> JterecomputedGenerated.render(t, Html.NONE, data)));
  }

  /** Numbers and words of closed lists only: nothing that a person wrote. */
  private static Map<String, Object> data(Report report) {
    CampaignSummary summary = report.summary();
    List<TrialResult> trials = report.trials();
    Map<String, Integer> place = new HashMap<>();
    List<Object> conditions = new ArrayList<>();
    for (Condition c : report.header().conditions()) {
      place.put(c.name(), conditions.size());
      Map<String, Object> one = new LinkedHashMap<>();
      one.put(
          "expect",
          c.expectation().stops() ? STOP : c.expectation().name().toLowerCase(Locale.ROOT));
      one.put("planned", c.plannedTrials());
      one.put("tolerance", c.toleranceMicrons());
      one.put("past", c.overTravelBelowMicrons());
      conditions.add(one);
    }
    Map<String, Object> data = new LinkedHashMap<>();
    data.put("conditions", conditions);
    data.put("claims", summary.claims().stream().map(c -> claim(c, summary, place)).toList());
    data.put("condition", trials.stream().map(t -> place.get(t.condition())).toList());
    data.put("verdict", trials.stream().map(Recomputation::letter).collect(Collectors.joining()));
    // A stop error is null where the file did not stop: toList takes no null, collect does.
    data.put(
        "error",
        trials.stream()
            .map(t -> t.rested() ? t.stopErrorMicrons() : null)
            .collect(Collectors.toList()));
    data.put("deepest", trials.stream().map(TrialResult::deepestMicrons).toList());
    // How far past a depth limit, where there is one.
    if (report.header().conditions().stream()
        .anyMatch(c -> c.expectation() == Expectation.DEPTH_LIMIT)) {
      data.put("overrun", trials.stream().map(t -> t.depth().overrunMicrons()).toList());
    }
    // Trials that neither stopped nor were refused, where there are any.
    int[] unstarted =
        IntStream.range(0, trials.size()).filter(i -> trials.get(i).neverStarted()).toArray();
    if (unstarted.length > 0) {
      data.put("unstarted", unstarted);
    }
    // Trials that show nothing about over-travel, where there are any.
    int[] idle =
        IntStream.range(0, trials.size())
            .filter(i -> !report.condition(trials.get(i)).isAtRisk(trials.get(i)))
            .toArray();
    if (idle.length > 0) {
      data.put("idle", idle);
    }
    Repeats repeats = report.evidence().repeats();
    if (repeats.any()) {
      canals(data, summary, trials, repeats);
    }
    report.evidence().path().ifPresent(path -> rule(data, path, report));
    return data;
  }

  /** The stopping rule, the place of every trial in run order, and every sentinel: good or bad. */
  private static void rule(Map<String, Object> data, StoppingPath path, Report report) {
    StoppingRule rule = path.rule();
    List<Claim.Endpoint> claims =
        report.summary().claims().stream().map(c -> c.claim().endpoint()).toList();
    Map<String, Object> one = new LinkedHashMap<>();
    one.put("kind", rule.kind().key());
    one.put("claim", claims.indexOf(path.claim().endpoint()));
    one.put("good", rule.goodShare());
    one.put("power", rule.power());
    one.put("looks", rule.looks());
    one.put("shape", rule.shape());
    one.put("cap", path.cap());
    one.put("sentinels", report.header().protocol().sentinels().isPresent());
    data.put("rule", one);
    data.put("index", report.trials().stream().map(TrialResult::index).toList());
    data.put(
        "sentinel",
        report.evidence().sentinels().stream()
            .map(p -> List.<Object>of(p.trial(), p.broken().isEmpty()))
            .toList());
  }

  /** The canal of every trial, and of every planned one that was not run, as numbers. */
  private static void canals(
      Map<String, Object> data,
      CampaignSummary summary,
      List<TrialResult> trials,
      Repeats repeats) {
    Map<String, Integer> numbers = new HashMap<>();
    List<Object> run = new ArrayList<>();
    trials.forEach(t -> run.add(number(numbers, repeats.canal(t))));
    List<Object> unrun = new ArrayList<>();
    for (ConditionSummary c : summary.conditions()) {
      List<Object> own = new ArrayList<>();
      for (int n = c.run(); n < c.condition().plannedTrials(); n++) {
        own.add(number(numbers, repeats.canal(c.condition().name(), n)));
      }
      unrun.add(own);
    }
    data.put("canal", run);
    data.put("unrun", unrun);
    data.put("canalAfterCanal", repeats.canalAfterCanal());
  }

  private static int number(Map<String, Integer> numbers, String canal) {
    int next = numbers.size();
    return numbers.computeIfAbsent(canal, c -> next);
  }

  /** The verdict: its first letter, or what kept an undecided one from being decided. */
  private static String letter(TrialResult trial) {
    return Withheld.GUARD_BAND.holds(trial)
        ? "G"
        : Withheld.from(trial).isPresent() ? "W" : trial.verdict().name().substring(0, 1);
  }

  private static Map<String, Object> claim(
      ClaimOutcome outcome, CampaignSummary summary, Map<String, Integer> place) {
    Claim c = outcome.claim();
    Map<String, Object> one = new LinkedHashMap<>();
    one.put("endpoint", c.endpoint().key());
    one.put("within", c.withinMicrons());
    one.put("share", c.share());
    one.put("confidence", c.confidence());
    one.put("refused", c.refusedAtMost());
    one.put("each", c.each());
    one.put(
        "conditions",
        ClaimOutcome.spokenOf(c, summary.conditions()).stream()
            .map(condition -> place.getOrDefault(condition.condition().name(), -1))
            .toList());
    return one;
  }
}
