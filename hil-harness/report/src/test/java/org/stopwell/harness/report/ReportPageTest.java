package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.StringReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

class ReportPageTest {
  private static final List<TrialResult> TRIALS = SampleCampaign.trials(30);
  private static final RunHeader HEADER = SampleCampaign.header(30);
  private static final Map<Integer, TraceSeries> TRACES = SampleCampaign.traces(TRIALS);

  @Test
  void theSameCampaignGivesTheSameBytesInAnyOrderAndLocale() throws IOException {
    String page = ReportPage.html(HEADER, TRIALS, TRACES);
    Files.writeString(Path.of("target", "sample-report.html"), page);
    List<TrialResult> shuffled = new ArrayList<>(TRIALS);
    Collections.shuffle(shuffled, new Random(11));
    Locale before = Locale.getDefault();
    try {
      Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
      assertEquals(page, ReportPage.html(HEADER, shuffled, TRACES));
    } finally {
      Locale.setDefault(before);
    }
  }

  @Test
  void thePageNeedsNothingBesideIt() {
    String page = ReportPage.html(HEADER, TRIALS, TRACES);
    for (String outside : List.of("<link", "<img", "<iframe", "@import", "url(", "src=")) {
      assertFalse(page.contains(outside), outside);
    }
    assertFalse(Pattern.compile("https?://").matcher(page).find(), "no address to fetch from");
  }

  @Test
  void everySimulatedFigureSaysSo() throws Exception {
    Document page = parse(ReportPage.html(HEADER, TRIALS, TRACES));
    NodeList drawings = page.getElementsByTagName("svg");
    int figures = 0;
    for (int i = 0; i < drawings.getLength(); i++) {
      Element svg = (Element) drawings.item(i);
      if (svg.getAttribute("role").equals("img")) {
        figures++;
        assertTrue(
            child(svg, "title").contains("simulated"),
            "figure without label: " + child(svg, "title"));
        assertFalse(child(svg, "desc").isBlank());
      }
    }
    assertTrue(figures >= 5, "figures: " + figures);
    assertTrue(page.getDocumentElement().getTextContent().contains("A bench is not a mouth"));
  }

  @Test
  void aBenchOfMatterIsNotCalledSimulated() {
    RunHeader h = HEADER;
    RunHeader real =
        new RunHeader(
            h.planName(),
            h.planYaml(),
            h.settingsYaml(),
            h.build(),
            new org.stopwell.rig.bench.BenchDescription(
                "serial", "42", "board 1", false, false, 1_000_000),
            h.campaignSeed(),
            h.conditions(),
            h.claims(),
            h.startedAt(),
            h.command());
    assertFalse(
        ReportPage.html(real, TRIALS, TRACES).toLowerCase(Locale.ROOT).contains("simulated)"));
  }

  @Test
  void nothingThatAPersonWroteBecomesMarkup() throws Exception {
    String evil = "</title></style><script>alert(1)</script>\" onload=\"x' & \u0000 \uD800 ü";
    RunHeader h = HEADER;
    RunHeader header =
        new RunHeader(evil, evil, evil, evil, h.bench(), 1, h.conditions(), List.of(), evil, evil);
    String page = ReportPage.html(header, TRIALS, TRACES);
    assertFalse(page.contains("<script>alert"), "no element from a name");
    assertEquals(
        evil.replace('\u0000', '\uFFFD').replace('\uD800', '\uFFFD'),
        child(parse(page).getDocumentElement(), "h1"));
  }

  @Test
  void everyReferenceWithinThePageHasItsTarget() throws Exception {
    String page = ReportPage.html(HEADER, TRIALS, TRACES);
    Set<String> ids = new HashSet<>();
    Matcher id = Pattern.compile(" id=\"([^\"]+)\"").matcher(page);
    while (id.find()) {
      assertTrue(ids.add(id.group(1)), "two elements with id " + id.group(1));
    }
    Matcher reference = Pattern.compile("(?:aria-labelledby|href)=\"#?([^\"]+)\"").matcher(page);
    while (reference.find()) {
      for (String one : reference.group(1).split(" ", -1)) {
        assertTrue(ids.contains(one), "nothing has id " + one);
      }
    }
    Document parsed = parse(page);
    NodeList heads = parsed.getElementsByTagName("th");
    for (int i = 0; i < heads.getLength(); i++) {
      assertFalse(
          ((Element) heads.item(i)).getAttribute("scope").isEmpty(), "every head has a scope");
    }
    NodeList tables = parsed.getElementsByTagName("table");
    for (int i = 0; i < tables.getLength(); i++) {
      assertFalse(child((Element) tables.item(i), "caption").isBlank());
    }
  }

  @Test
  void aCampaignWithoutTrialsStillHasAReport() throws Exception {
    String page = ReportPage.html(HEADER, List.of(), Map.of());
    assertTrue(parse(page).getDocumentElement().getTextContent().contains("not estimable"));
    assertFalse(page.contains("NaN") || page.contains("Infinity"));
  }

  @Test
  void oneTrialAndEqualTrialsSayNotEstimable() {
    for (int n : new int[] {1, 2, 3}) {
      List<TrialResult> equal = new ArrayList<>();
      for (int i = 0; i < n; i++) {
        equal.add(SampleRun.stop(i, 40));
      }
      String page = ReportPage.html(SampleRun.header(n, 0), equal, Map.of());
      assertTrue(page.contains("not estimable"), "n = " + n);
      assertFalse(page.contains("NaN") || page.contains("Infinity"), "n = " + n);
    }
  }

  @Test
  void theHeadlineNumbersAreThoseOfTheTrials() throws Exception {
    String text =
        parse(ReportPage.html(HEADER, TRIALS, TRACES)).getDocumentElement().getTextContent();
    long stops = TRIALS.stream().filter(TrialResult::stopped).count();
    assertTrue(text.contains(stops + " stops in 3 conditions"));
    assertTrue(text.contains("1 of 88"), "one over-travel of 88 analysed that must stop");
    assertTrue(text.contains("PORT_GONE"));
  }

  @Test
  void theSectionsStandInTheOrderOfTheirList() {
    Matcher id =
        Pattern.compile("<section id=\"([a-z-]+)-section\"")
            .matcher(ReportPage.html(HEADER, TRIALS, TRACES));
    assertEquals(
        List.of(
            "run-order",
            "distribution",
            "trace",
            "chain",
            "conditions",
            "statistics",
            "flow",
            "protocol",
            "worst",
            "validity",
            "identity"),
        id.results().map(r -> r.group(1)).toList());
  }

  @Test
  void aTrialThatNeverStartedIsNamedWithItsReason() {
    TrialResult idle =
        SampleRun.unstopped(
            0,
            "half-wet",
            Expectation.STOP,
            Verdict.FAIL,
            TrialResult.NEVER_STARTED,
            "The motor never turned: no key.");
    String page = ReportPage.html(SampleRun.header(1, 0), List.of(idle), Map.of());
    assertTrue(
        page.contains(
            "1 trial never started; the first is trial 1. The motor never turned: no key."),
        "reason at the head");
    assertTrue(page.contains(">not started</text>"), "a lane of its own");
    assertTrue(page.contains("0 of 1</span><small>"), "not counted as refused");
  }

  private static Document parse(String page) throws Exception {
    // The page is written as well-formed XML, so a strict parser can check it.
    String body = page.substring(page.indexOf("<html"));
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new InputSource(new StringReader(body)));
  }

  private static String child(Element element, String tag) {
    return String.valueOf(element.getElementsByTagName(tag).item(0).getTextContent());
  }
}
