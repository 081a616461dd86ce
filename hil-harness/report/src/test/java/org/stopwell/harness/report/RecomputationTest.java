package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Order;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.DepthReached;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

/** The page's own script, run by Node.js, finds the numbers that the program wrote. */
class RecomputationTest {
  private static final Pattern NUMBER = Pattern.compile("data-is=\"([^\"]+)\">([^<]*)<");

  private final Path directory;

  RecomputationTest(@TempDir Path directory) {
    this.directory = directory;
  }

  @Test
  void thePageRecomputesEveryNumberOfTheSampleCampaign() throws Exception {
    List<TrialResult> trials = SampleCampaign.trials(30);
    String page = ReportPage.html(SampleCampaign.header(30), trials, Map.of());
    assertTrue(NUMBER.matcher(page).results().count() >= 60);
    for (String what :
        List.of(
            "claim-verdict 3",
            "claim-bound 0",
            "claim-mean 2",
            "claim-interval 2",
            "mean stop",
            "tolerance stop 0.95 0.95",
            "interval 1 within 0.95",
            "upper stop over 0.95")) {
      assertTrue(page.contains("data-is=\"" + what + "\""), what);
    }
    JsonNode result = run(List.of(page)).get(0);
    assertEquals("[]", result.get("differing").toString());
    assertTrue(result.get("line").asString().endsWith("numbers equal"));
  }

  @Test
  void theScriptAndTheProgramAgreeOnManyCampaigns() throws Exception {
    long seed = 20260109;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    List<String> pages = new ArrayList<>();
    for (int size : new int[] {0, 1, 2, 3, 10, 60, 93, 400}) {
      for (double spread : new double[] {0, 250}) {
        pages.add(page(random, size, spread, 1));
        pages.add(page(random, size, spread, 4));
        pages.add(page(random, size, spread, 3));
      }
    }
    JsonNode results = run(pages);
    assertEquals(pages.size(), results.size());
    results.forEach(
        result -> {
          assertEquals("[]", result.get("differing").toString());
          assertTrue(result.get("line").asString().contains("all "), result.toString());
        });
  }

  @Test
  void claimsOnEachConditionAndTheirRefusalsAreFoundAgain() throws Exception {
    long seed = 20260113;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    List<String> pages = new ArrayList<>();
    for (int each : new int[] {0, 1, 12, 48}) {
      for (int canalTrials : new int[] {1, 3}) {
        pages.add(eachPage(random, each, canalTrials));
      }
    }
    for (String what :
        List.of(
            "each-holding 0",
            "each-contradicted 2",
            "alone-result 1 3",
            "alone-interval 2 0",
            "claim-unstopped-bound 3",
            "claim-worst-mean 3",
            "alone-other-bound 4 1")) {
      assertTrue(pages.stream().anyMatch(p -> p.contains("data-is=\"" + what)), what);
    }
    JsonNode results = run(pages);
    for (int i = 0; i < pages.size(); i++) {
      assertEquals("[]", results.get(i).get("differing").toString(), "page " + i);
    }
    String page = pages.get(pages.size() - 2);
    List<String> tampered =
        List.of(
            page.replaceFirst("\"refused\":0.3", "\"refused\":0.01"),
            page.replace("\"each\":true", "\"each\":false"),
            page.replaceFirst("\"idle\":\\[[0-9, ]+\\]", "\"idle\":[]"));
    for (String one : tampered) {
      assertFalse(page.equals(one), "nothing was changed");
      assertTrue(run(List.of(one)).get(0).get("line").asString().endsWith("DIFFER"));
    }
  }

  /** Four conditions that stop, one of them far off; some trials refused, and some pushed past. */
  private static String eachPage(Random random, int each, int canalTrials) {
    RunHeader h = SampleRun.header(0, 0);
    List<Condition> conditions = new ArrayList<>();
    for (int c = 0; c < 4; c++) {
      conditions.add(new Condition("c" + c, Expectation.STOP, each, 500, 500));
    }
    conditions.add(new Condition("dry", Expectation.REFUSE, each, 500, 500));
    List<Claim> claims =
        List.of(
            new Claim(Claim.Endpoint.WITHIN, 500, 0.7, 0.95, List.of(), true, 0),
            new Claim(Claim.Endpoint.OVER_TRAVEL, 0, 0.2, 0.95, List.of(), true, 0),
            new Claim(Claim.Endpoint.BIAS, 100, 0, 0.95, List.of(), true, 0.3),
            new Claim(Claim.Endpoint.BIAS, 150, 0, 0.95, List.of(), false, 0.3),
            new Claim(Claim.Endpoint.WITHIN, 250, 0.7, 0.95, List.of()));
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < 5 * each; i++) {
      String name = i % 5 == 4 ? "dry" : "c" + i % 5;
      int error = (int) Math.round((i % 5 == 1 ? -260 : 10) + 80 * random.nextGaussian());
      trials.add(
          i % 5 == 4
              ? SampleRun.refusal(i)
              : random.nextInt(12) == 0
                  ? SampleRun.refusedAt(i, name, random.nextBoolean() ? -150 : 900)
                  : random.nextInt(30) == 0
                      ? SampleRun.rigFault(i, "LATE").with(name)
                      : SampleRun.stop(i, error).with(name));
    }
    Map<String, String> rows = new java.util.HashMap<>(h.protocol().rows());
    rows.put("canal_trials", Integer.toString(canalTrials));
    return ReportPage.html(
        SampleRun.under(Protocol.of(rows), h, conditions, claims), trials, Map.of());
  }

  @Test
  void aTrialThatNeverStartedIsNoRefusal() throws Exception {
    List<TrialResult> trials =
        List.of(
            SampleRun.refusal(0),
            SampleRun.unstopped(
                1, "dry", Expectation.REFUSE, Verdict.FAIL, TrialResult.NEVER_STARTED, "Parked."));
    String page = ReportPage.html(SampleRun.header(0, 2), trials, Map.of());
    assertTrue(page.contains("1 never started"), "it is counted by itself");
    JsonNode result = run(List.of(page)).get(0);
    assertEquals("[]", result.get("differing").toString());
  }

  @Test
  void aNumberThatWasTamperedWithIsFound() throws Exception {
    String page =
        ReportPage.html(SampleRun.header(60, 0), List.of(SampleRun.stop(0, 20)), Map.of());
    String tampered = page.replace(">+0.020", ">+0.002");
    assertFalse(page.equals(tampered));
    JsonNode result = run(List.of(tampered)).get(0);
    assertTrue(result.get("line").asString().endsWith("numbers DIFFER"), result.toString());
    assertEquals("all that must stop: mean", result.get("differing").get(0).get(0).asString());
    String fewer = page.replace("\"error\":[20]", "\"error\":[21]");
    assertTrue(run(List.of(fewer)).get(0).get("line").asString().contains("DIFFER"));
  }

  @Test
  void whatAStoppingRuleDecidesIsFoundAgain() throws Exception {
    long seed = 20260111;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    List<String> pages = new ArrayList<>();
    for (StoppingRule.Kind kind : StoppingRule.Kind.values()) {
      if (kind == StoppingRule.Kind.FIXED) {
        continue;
      }
      boolean looks = kind == StoppingRule.Kind.GROUP_SEQUENTIAL;
      Map<String, Integer> said = new TreeMap<>();
      for (Claim.Endpoint endpoint : Claim.Endpoint.values()) {
        if (endpoint == Claim.Endpoint.BIAS && !looks) {
          continue;
        }
        for (double spread : new double[] {90, 220, 420}) {
          for (int run : spread == 90 ? new int[] {0, 1, 40, 240} : new int[] {240}) {
            boolean sentinels = random.nextBoolean();
            int canalTrials = looks && random.nextBoolean() ? 3 : 1;
            String page =
                ruledPage(random, ruled(kind, endpoint, sentinels, canalTrials), run, spread);
            pages.add(page);
            said.merge(verdict(page, 0), 1, Integer::sum);
          }
        }
      }
      assertEquals(Set.of("HOLDS", "CONTRADICTED", "NOT DECIDED"), open(said), kind.key());
    }
    JsonNode results = run(pages);
    assertEquals(pages.size(), results.size());
    for (int i = 0; i < pages.size(); i++) {
      assertEquals("[]", results.get(i).get("differing").toString(), "page " + i);
    }
    assertTrue(pages.stream().anyMatch(p -> p.contains("data-is=\"rule-trial 0\"")));
    assertTrue(pages.stream().anyMatch(p -> p.contains("data-is=\"rule-look-interval 2\"")));
    assertTrue(pages.stream().anyMatch(p -> p.contains("data-is=\"rule-for 40\"")));
  }

  @Test
  void aDecisionThatWasTamperedWithIsFound() throws Exception {
    RunHeader header = ruled(StoppingRule.Kind.SPRT, Claim.Endpoint.WITHIN, true, 1);
    String page = ruledPage(new Random(3), header, 240, 90);
    assertEquals("HOLDS", verdict(page, 0));
    // One stop becomes a miss, one good sentinel a bad one, the rule a laxer one, the word another.
    Matcher first = Pattern.compile("\"error\":\\[-?[0-9]+").matcher(page);
    assertTrue(first.find());
    List<String> tampered =
        List.of(
            page.substring(0, first.start()) + "\"error\":[900" + page.substring(first.end()),
            page.replaceFirst(",true\\],", ",false],"),
            page.replace("\"good\":0.99,", "\"good\":0.98,"),
            page.replace(">HOLDS<", ">CONTRADICTED<"));
    JsonNode results = run(tampered);
    for (int i = 0; i < tampered.size(); i++) {
      assertFalse(page.equals(tampered.get(i)), "change " + i);
      assertTrue(results.get(i).get("line").asString().endsWith("DIFFER"), "change " + i);
    }
  }

  @Test
  void thePageAllowsThisScriptAndNoOther() throws Exception {
    String page = ReportPage.html(SampleRun.header(1, 0), List.of(SampleRun.stop(0, 20)), Map.of());
    String script = script(page);
    byte[] hash =
        MessageDigest.getInstance("SHA-256").digest(script.getBytes(StandardCharsets.UTF_8));
    assertTrue(
        page.contains(
            "script-src &#39;sha256-" + Base64.getEncoder().encodeToString(hash) + "&#39;"));
    assertFalse(script.contains("</script"), "the script ends where its element ends");
    assertFalse(script.contains("innerHTML"));
  }

  private static String page(Random random, int size, double spread, int canalTrials) {
    RunHeader header =
        shared(SampleRun.header(size + random.nextInt(2), random.nextInt(3)), canalTrials);
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < size; i++) {
      int error = (int) Math.round(30 + spread * random.nextGaussian());
      // A bench that may not decide, in every fourth campaign of some size.
      String code =
          size % 4 == 0 && i % 7 == 6 && header.plannedTrials() % 2 == 0
              ? Withheld.PROOF_DUE.name()
              : random.nextInt(40) == 0 ? Withheld.GUARD_BAND.name() : "";
      trials.add(
          !code.isEmpty()
              ? SampleRun.stop(i, error).with(Verdict.UNDECIDED, code, "Withheld.")
              : random.nextInt(40) == 0
                  ? SampleRun.rigFault(i, "LATE")
                  : random.nextInt(40) == 0
                      ? SampleRun.unstopped(
                          i, "half-wet", Expectation.STOP, Verdict.UNDECIDED, "TIME_LIMIT", "Late.")
                      : SampleRun.stop(i, error));
    }
    return ReportPage.html(header, trials, Map.of());
  }

  /** The same run where some trials of each condition share one canal. */
  private static RunHeader shared(RunHeader h, int canalTrials) {
    Map<String, String> rows = new java.util.HashMap<>(h.protocol().rows());
    rows.put("canal_trials", Integer.toString(canalTrials));
    List<Claim> claims = new ArrayList<>(h.claims());
    claims.add(new Claim(Claim.Endpoint.BIAS, 60, 0, 0.95, List.of()));
    return SampleRun.under(Protocol.of(rows), h, h.conditions(), claims);
  }

  /** A plan of at most 240 trials whose one claim is decided by a stopping rule. */
  private static RunHeader ruled(
      StoppingRule.Kind kind, Claim.Endpoint endpoint, boolean sentinels, int canalTrials) {
    boolean atMost = endpoint.isAtMost();
    boolean refusals = endpoint == Claim.Endpoint.REFUSED;
    StoppingRule rule = new StoppingRule(kind, endpoint, atMost ? 0.01 : 0.99, 0.95, 3, 0.2);
    RunHeader h = SampleRun.header(refusals ? 0 : 240, refusals ? 240 : 0);
    int band = endpoint == Claim.Endpoint.BIAS ? 45 : endpoint == Claim.Endpoint.WITHIN ? 500 : 0;
    Protocol protocol =
        new Protocol(
            Order.BLOCKS,
            canalTrials,
            false,
            Optional.empty(),
            List.of(),
            Optional.empty(),
            sentinels ? Optional.of(new SentinelRule(10, 500, 20, true)) : Optional.empty(),
            0,
            0,
            rule,
            Map.of(),
            Map.of());
    Claim claim = new Claim(endpoint, band, atMost ? 0.1 : 0.9, 0.95, List.of());
    return SampleRun.under(protocol, h, conditions(h, endpoint), List.of(claim));
  }

  /** A claim on overrun is about trials that must rest at a depth limit. */
  private static List<Condition> conditions(RunHeader h, Claim.Endpoint endpoint) {
    return endpoint == Claim.Endpoint.OVERRUN
        ? List.of(new Condition("half-wet", Expectation.DEPTH_LIMIT, 240, 500, 500))
        : h.conditions();
  }

  /** A trial that rests at a depth limit of 15 mm, after it went past it by so much. */
  private static TrialResult atDepthLimit(int index, int pastMicrons) {
    TrialResult stop = SampleRun.stop(index, 0);
    return new TrialResult(
            index,
            stop.condition(),
            stop.seed(),
            Expectation.DEPTH_LIMIT,
            pastMicrons > 500 ? Verdict.FAIL : Verdict.PASS,
            pastMicrons > 500 ? "PAST_LIMIT" : "AT_DEPTH_LIMIT",
            "Rests.",
            false,
            0,
            0,
            stop.deepestMicrons(),
            0,
            0,
            stop.state(),
            stop.reason(),
            stop.trust(),
            stop.cause(),
            0,
            stop.durationNs(),
            stop.steps(),
            0,
            stop.stateHash(),
            stop.chain())
        .with(new DepthReached(15_000, pastMicrons, 0, 0));
  }

  /** The campaign up to its decision: some trials spoiled by the rig, every eighth sentinel bad. */
  private static String ruledPage(Random random, RunHeader header, int size, double spread) {
    boolean refusals = header.claims().get(0).endpoint() == Claim.Endpoint.REFUSED;
    boolean overTravel = header.claims().get(0).endpoint() == Claim.Endpoint.OVER_TRAVEL;
    boolean overrun = header.claims().get(0).endpoint() == Claim.Endpoint.OVERRUN;
    boolean sentinels = header.protocol().sentinels().isPresent();
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < size; i++) {
      if (sentinels && i % 10 == 9) {
        int off = random.nextInt(40) == 0 ? 100 : random.nextInt(21) - 10;
        trials.add(SampleRun.stop(i, off).with(SentinelRule.CONDITION));
      } else if (random.nextInt(200) == 0) {
        trials.add(
            (refusals ? SampleRun.refusal(i) : overrun ? atDepthLimit(i, 0) : SampleRun.stop(i, 0))
                .with(Verdict.RIG_FAULT, "LINK", "gone"));
      } else if (refusals) {
        boolean refused = random.nextGaussian() * spread < 400;
        trials.add(
            refused ? SampleRun.refusal(i) : SampleRun.refusal(i).with(Verdict.FAIL, "NO", "no"));
      } else if (overrun) {
        int past = (int) Math.round(spread * random.nextGaussian());
        trials.add(atDepthLimit(i, past));
      } else {
        int error = (int) Math.round(spread / 6 + spread * random.nextGaussian());
        TrialResult stop =
            overTravel && random.nextInt(25) == 0
                ? SampleRun.refusedAt(i, "half-wet", random.nextInt(4) == 0 ? -90 : 900)
                : SampleRun.stop(i, error);
        trials.add(
            random.nextInt(60) == 0
                ? stop.with(Verdict.UNDECIDED, Withheld.GUARD_BAND.name(), "Withheld.")
                : stop);
      }
    }
    List<TrialResult> until =
        Evidence.of(header, trials)
            .decision()
            .map(decided -> trials.subList(0, decided.index() + 1))
            .orElse(trials);
    return ReportPage.html(header, until, Map.of());
  }

  private static String verdict(String page, int claim) {
    return between(page, "data-is=\"claim-verdict " + claim + "\">", "<");
  }

  /** Whether the rig or nobody is to blame, a claim that is open is not decided. */
  private static Set<String> open(Map<String, Integer> said) {
    return said.keySet().stream()
        .map(word -> word.equals("RIG FAULT") ? "NOT DECIDED" : word)
        .collect(Collectors.toSet());
  }

  private JsonNode run(List<String> pages) throws IOException, InterruptedException {
    List<Map<String, Object>> inputs = new ArrayList<>();
    for (String page : pages) {
      List<Map<String, String>> numbers = new ArrayList<>();
      Matcher number = NUMBER.matcher(page);
      while (number.find()) {
        numbers.add(Map.of("is", number.group(1), "text", number.group(2)));
      }
      inputs.add(
          Map.of("numbers", numbers, "trials", between(page, "id=\"trials\">", "</script>")));
    }
    Path script = Files.writeString(directory.resolve("script.js"), script(pages.get(0)));
    Path list = directory.resolve("pages.json");
    Files.writeString(list, new ObjectMapper().writeValueAsString(inputs));
    Path stub = Path.of("src", "test", "resources", "report", "recompute-under-node.js");
    Process process =
        new ProcessBuilder("node", stub.toString(), script.toString(), list.toString())
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertEquals(0, process.waitFor());
    return new ObjectMapper().readTree(said);
  }

  private static String script(String page) {
    return between(page, "<script>", "</script>");
  }

  private static String between(String text, String from, String to) {
    int at = text.lastIndexOf(from) + from.length();
    return text.substring(at, text.indexOf(to, at));
  }
}
