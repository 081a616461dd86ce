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
import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.stats.Claim;
import org.stopwell.harness.trial.ErrorChain;
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
        pages.add(page(random, size, spread, 1, 0));
        pages.add(page(random, size, spread, 4, 0));
        pages.add(page(random, size, spread, 3, 0.1));
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
  void aNumberThatWasTamperedWithIsFound() throws Exception {
    String page =
        ReportPage.html(SampleRun.header(60, 0), List.of(SampleRun.stop(0, 20)), Map.of());
    String tampered = page.replace(">+0.020", ">+0.002");
    assertFalse(page.equals(tampered));
    JsonNode result = run(List.of(tampered)).get(0);
    assertTrue(result.get("line").asString().endsWith("numbers DIFFER"), result.toString());
    assertEquals("all that shall stop: mean", result.get("differing").get(0).get(0).asString());
    String fewer = page.replace("\"error\":[20]", "\"error\":[21]");
    assertTrue(run(List.of(fewer)).get(0).get("line").asString().contains("DIFFER"));
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

  private static String page(
      Random random, int size, double spread, int canalTrials, double correlation) {
    RunHeader header =
        shared(
            SampleRun.header(size + random.nextInt(2), random.nextInt(3)),
            canalTrials,
            correlation);
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
              ? withheld(SampleRun.stop(i, error), code)
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
  private static RunHeader shared(RunHeader h, int canalTrials, double correlation) {
    Map<String, String> rows = new java.util.HashMap<>(h.protocol().rows());
    rows.put("canal_trials", Integer.toString(canalTrials));
    rows.put("canal_correlation", Double.toString(correlation));
    List<Claim> claims = new ArrayList<>(h.claims());
    claims.add(new Claim(Claim.Endpoint.BIAS, 60, 0, 0.95, List.of()));
    return new RunHeader(
        h.planName(),
        h.planYaml(),
        h.settingsYaml(),
        h.build(),
        h.bench(),
        h.campaignSeed(),
        h.conditions(),
        claims,
        h.startedAt(),
        h.command(),
        Protocol.of(rows),
        h.registration());
  }

  private static TrialResult withheld(TrialResult t, String code) {
    return new TrialResult(
        t.index(),
        t.condition(),
        t.seed(),
        t.expectation(),
        Verdict.UNDECIDED,
        code,
        "Withheld.",
        true,
        t.remainingMicrons(),
        t.stopErrorMicrons(),
        t.deepestMicrons(),
        t.readingMicrons(),
        t.state(),
        t.reason(),
        t.trust(),
        t.cause(),
        t.stopTimeNs(),
        t.durationNs(),
        t.steps(),
        t.worstLatenessNs(),
        t.stateHash(),
        ErrorChain.NONE);
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
