package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import java.util.function.ToIntFunction;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.TDistribution;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.StatisticsReader;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Endpoint;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.record.Design;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

/**
 * Every number of a report beside its label, compared with the trials. The arithmetic here is its
 * own: plain loops over the trials, and a statistics library for t and χ². It shares no code with
 * the page.
 */
class ReportNumbersTest {
  private static final String SLOW = "slow hand";
  private static final String QUICK = "quick hand";
  private static final String DRY = "dry";
  private static final String TABLE = "Table of conditions";
  private static final int SLOW_BAND = 500;
  private static final int QUICK_BAND = 300;

  /**
   * Factor of the two-sided tolerance interval, 56 stops, 95 %/95 %: SciPy 1.17, quad and brentq.
   */
  private static final double TOLERANCE_FACTOR_56 = 2.3518962624;

  private static final List<TrialResult> TRIALS = trials();
  private static final ReadPage PAGE =
      new ReadPage(ReportPage.html(header("analysis: {margin_mm: 0.1}"), TRIALS, Map.of()));

  /** What the page must say, by place, and what it says. */
  private final Map<String, String> expected = new LinkedHashMap<>();

  private final Map<String, String> found = new LinkedHashMap<>();

  @Test
  void theNumbersAtTheHeadAreThoseOfTheTrials() {
    double[] errors = errors(SLOW, QUICK);
    assertEquals(56, errors.length, "27 and 29 stops");
    fact("Mean stop error (bias)", 0, signed(mean(errors)));
    fact(
        "Mean stop error (bias)",
        1,
        "95 % interval " + outward(meanInterval(errors, 0.95)) + "; 0 of 56 trials have no stop");
    fact("Standard deviation", 0, plain(deviation(errors)));
    fact("Standard deviation", 1, "56 stops in 2 conditions");
    int within = within(SLOW, SLOW_BAND) + within(QUICK, QUICK_BAND);
    fact("Within the tolerance band", 0, within + " of 56");
    fact(
        "Within the tolerance band",
        1,
        percent(within / 56.0) + "; exact 95 % interval " + exact(within, 56));
    fact("Past the foramen", 0, "1 of 56");
    compare();
    String bound = "of the driven trials; with 95 % confidence at most " + upper(1, 56);
    assertEquals(bound, PAGE.fact("Past the foramen").get(1).substring(0, bound.length()));
    assertEquals(4, PAGE.factNames().size(), "numbers without a test: " + PAGE.factNames());
  }

  @Test
  void theTableOfConditionsHoldsTheNumbersOfEach() {
    int quick = within(QUICK, QUICK_BAND);
    conditions(SLOW, 27, "of 32 planned, 3 rig faults", errors(SLOW), 27, "±0.5 mm: ", 0);
    conditions(QUICK, 29, "of 32 planned", errors(QUICK), quick, "±0.3 mm: ", 1);
    cell(DRY, "Analysed", "20", "of 20 planned");
    cell(DRY, "Bias", "–", "");
    cell(DRY, "Refused", "19 of 20", "95.0 %");
    conditions("All", 76, "of 84 planned, 3 rig faults", errors(SLOW, QUICK), 27 + quick, "", 1);
    cell("All", "Refused", "19 of 20", "95.0 %");
    compare();
  }

  private void conditions(
      String row, int analysed, String planned, double[] errors, int in, String band, int past) {
    int n = errors.length;
    cell(row, "Analysed", Integer.toString(analysed), planned);
    cell(row, "Bias", signed(mean(errors)), outward(meanInterval(errors, 0.95)));
    cell(row, "SD", plain(deviation(errors)), n + " stops");
    cell(row, "Within tolerance", in + " of " + n, band + exact(in, n));
    cell(row, "Past the foramen", past + " of " + n, "at most " + upper(past, n));
  }

  @Test
  void theStatisticsAreThoseOfTheStops() {
    double[] errors = errors(SLOW, QUICK);
    finding("Trials without a stop", "0 of 56; with 95 % confidence at most " + upper(0, 56));
    double mean = mean(errors);
    double half = TOLERANCE_FACTOR_56 * deviation(errors);
    finding("Where 95 % of stops lie", outward(mean - half, mean + half));
    double low = Arrays.stream(errors).min().orElseThrow();
    double high = Arrays.stream(errors).max().orElseThrow();
    finding("Least and greatest", outward(low, high));
    // Of one condition: squares about the mean of each, with 56 − 2 degrees of freedom.
    double squares = squares(errors(SLOW)) + squares(errors(QUICK));
    ChiSquaredDistribution chi = ChiSquaredDistribution.of(54);
    finding(
        "Repeatability s_r",
        plain(Math.sqrt(squares / 54))
            + ", 95 % interval "
            + outward(
                    Math.sqrt(squares / chi.inverseCumulativeProbability(0.975)),
                    Math.sqrt(squares / chi.inverseCumulativeProbability(0.025)))
                .replace("+", ""));
    double[] ninety = meanInterval(errors, 0.9);
    boolean equivalent = ninety[0] > -100 && ninety[1] < 100;
    finding(
        "Mean within ±0.1 mm",
        (equivalent ? "shown" : "not shown") + ": 90 % interval " + outward(ninety));
    double[] differences =
        stops(SLOW, QUICK).stream()
            .mapToDouble(t -> -(t.chain().senseMicrons() + t.chain().filterMicrons()))
            .toArray();
    double bias = mean(differences);
    double limit = 1.959964 * deviation(differences);
    finding(
        "Reading against truth",
        "bias " + signed(bias) + ", limits " + outward(bias - limit, bias + limit));
    compare();
    double wilks = 1 - 56 * Math.pow(0.95, 55) + 55 * Math.pow(0.95, 56);
    says(PAGE.finding("Least and greatest").get(1), "with " + percent(wilks) + " confidence");
    says(PAGE.finding("Where 95 % of stops lie").get(1), "mean ± 2.352 standard deviations for 56");
    double t = TDistribution.of(55).inverseCumulativeProbability(0.975);
    double ofLimit = deviation(differences) * Math.sqrt(3 / 56.0);
    says(
        PAGE.finding("Reading against truth").get(1),
        "lower limit "
            + outward(bias - limit - t * ofLimit, bias - limit + t * ofLimit)
            + ", upper limit "
            + outward(bias + limit - t * ofLimit, bias + limit + t * ofLimit));
    double error = deviation(errors) / Math.sqrt(56);
    says(
        PAGE.finding("Mean within ±0.1 mm").get(1),
        "p "
            + probability(upperTail((mean + 100) / error))
            + "; not earlier, p "
            + probability(upperTail((100 - mean) / error)));
    assertEquals(6, PAGE.findingNames().size(), "without a test: " + PAGE.findingNames());
  }

  private static double upperTail(double t) {
    return TDistribution.of(55).survivalProbability(t);
  }

  @Test
  void theErrorChainIsTheMeanOfItsShares() {
    Map<String, ToIntFunction<ErrorChain>> shares = new LinkedHashMap<>();
    shares.put("sense", ErrorChain::senseMicrons);
    shares.put("filter", ErrorChain::filterMicrons);
    shares.put("decide", ErrorChain::decideMicrons);
    shares.put("link", ErrorChain::linkMicrons);
    shares.put("actuate", ErrorChain::actuateMicrons);
    shares.put("coast", ErrorChain::coastMicrons);
    for (String condition : List.of(SLOW, QUICK)) {
      shares.forEach(
          (name, share) -> {
            double[] own = of(stops(condition), t -> share.applyAsInt(t.chain()));
            chain(condition, name, own);
          });
      chain(condition, "stop error", errors(condition));
    }
    compare();
  }

  private void chain(String condition, String share, double[] own) {
    ReadPage.Cell cell = PAGE.cell("Table of the error chain", condition, share);
    String place = condition + ", " + share;
    put(place + ", mean", sign(mean(own), 1) + " µm", cell.main());
    put(place + ", spread", round(deviation(own), 0, RoundingMode.HALF_UP) + " µm", cell.small());
  }

  @Test
  void theFlowCountsEveryPlannedTrialOnce() {
    int failed = (int) TRIALS.stream().filter(t -> t.verdict() == Verdict.FAIL).count();
    assertEquals(
        List.of(
            "84 planned",
            "4 not run",
            "80 run",
            "1 invalid: LATE",
            "2 invalid: PORT_GONE",
            "1 safety stop",
            "76 analysed",
            failed + " failed",
            "0 undecided",
            (76 - failed) + " passed"),
        PAGE.flow());
  }

  @Test
  void theWorstTrialsAreThoseWithTheirOwnErrors() {
    List<String> rows =
        PAGE.rows("Table of the worst trials").stream()
            .map(r -> r.get(0).main() + " " + r.get(1).main() + " " + r.get(2).main())
            .toList();
    // The one past the foramen, both failures by distance, then the passed ones by distance.
    List<String> worst = new ArrayList<>(List.of("36 " + QUICK + " −0.640 mm"));
    worst.addAll(List.of("40 " + QUICK + " +0.420 mm", "68 " + DRY + " +0.310 mm"));
    TRIALS.stream()
        .filter(t -> t.verdict() == Verdict.PASS)
        .sorted(Comparator.comparing(t -> -Math.abs(t.stopErrorMicrons())))
        .limit(2)
        .forEach(
            t ->
                worst.add(
                    (t.index() + 1) + " " + t.condition() + " " + signed(t.stopErrorMicrons())));
    assertEquals(worst, rows);
  }

  @Test
  void theFiguresSayTheSameNumbers() {
    String spread = PAGE.description("spread");
    for (String condition : List.of(SLOW, QUICK)) {
      double[] own = errors(condition);
      says(
          spread,
          condition
              + ": "
              + own.length
              + " stops, mean "
              + signed(mean(own))
              + ", standard deviation "
              + plain(deviation(own)));
    }
    says(PAGE.description("chain"), "decide +40.0 µm");
    double[] errors = errors(SLOW, QUICK);
    says(PAGE.description("chain"), "together " + sign(mean(errors), 1) + " µm");
  }

  @Test
  void eachEndpointStandsWithItsResult() {
    Protocol none = Protocol.NONE;
    Protocol protocol =
        new Protocol(
            none.order(),
            none.canalTrials(),
            none.commonCanals(),
            Optional.of(Endpoint.STOP_ERROR),
            List.of(Endpoint.EARLY_STOP, Endpoint.REFUSAL, Endpoint.TIME),
            none.blinding(),
            none.sentinels(),
            none.afterRigFault(),
            none.lateStepNs(),
            none.stopping(),
            Map.of(Claim.Endpoint.WITHIN, 59L),
            Map.of(Claim.Endpoint.WITHIN, "Common practice."));
    RunHeader h = header("analysis: {}");
    Claim claim = new Claim(Claim.Endpoint.WITHIN, 500, 0.9, 0.95, List.of());
    ReadPage said =
        new ReadPage(
            ReportPage.html(
                SampleRun.under(protocol, h, h.conditions(), List.of(claim)), TRIALS, Map.of()));
    double[] errors = errors(SLOW, QUICK);
    String table = "Endpoints (simulated)";
    assertEquals(
        "mean "
            + signed(mean(errors))
            + ", 95 % interval "
            + outward(meanInterval(errors, 0.95))
            + ", SD "
            + plain(deviation(errors)),
        said.cell(table, "stop_error", "result").main());
    assertEquals(
        "1 of 56; exact 95 % interval " + exact(1, 56),
        said.cell(table, "early_stop", "result").main(),
        "0.420 mm with ±0.300 mm");
    assertEquals(
        "19 of 20; exact 95 % interval " + exact(19, 20),
        said.cell(table, "refusal", "result").main());
    double[] seconds = of(stops(SLOW, QUICK, DRY), t -> (int) (t.stopTimeNs() / 1_000_000));
    assertEquals(57, seconds.length);
    assertEquals(
        "mean " + round(mean(seconds) / 1000, 2, RoundingMode.HALF_UP) + " s over 57 stops",
        said.cell(table, "time", "result").main());
    String rules = "Exclusion rules, which do not use the outcome of a trial (simulated)";
    assertEquals("3", said.cell(rules, "BENCH_FAULT", "trials").main());
    assertEquals("1", said.cell(rules, "SAFETY_STOP", "trials").main());
    assertEquals("Common practice. Planned size: at least 59 trials.", said.pair("Claim within"));
  }

  /** The bound at which the likelihood of all greater shares is 20 times that of the bound. */
  @Test
  void theBoundForEveryLookIsThatOfTheTrials() {
    RunHeader h = header("analysis: {sequential: true}");
    Claim claim = new Claim(Claim.Endpoint.WITHIN, 300, 0.7, 0.95, List.of());
    List<String> found =
        new ReadPage(
                ReportPage.html(
                    SampleRun.under(Protocol.NONE, h, h.conditions(), List.of(claim)),
                    TRIALS,
                    Map.of()))
            .finding("At every look: within tolerance");
    int within = within(SLOW, 300) + within(QUICK, 300);
    double low = 0.3;
    double high = 1;
    while (high - low > 1e-7) {
      double middle = (low + high) / 2;
      low = above(within, 56, middle) >= 20 ? middle : low;
      high = low == middle ? high : middle;
    }
    double bound = Double.parseDouble(found.get(0).replaceAll("[^0-9.]", ""));
    assertEquals(100 * low, bound, 0.011, found.get(0));
    int good = 0;
    int all = 0;
    List<TrialResult> stops = stops(SLOW, QUICK);
    while (above(good, all, 0.7) < 20) {
      good += Math.abs(stops.get(all++).stopErrorMicrons()) <= 300 ? 1 : 0;
    }
    says(found.get(1), "The limit of 70 % was first met after " + all + " such trials.");
  }

  private static double above(int hits, int n, double share) {
    if (hits <= n * share) {
      return 0;
    }
    int steps = 4_000;
    double sum = 0;
    for (int i = 0; i < steps; i++) {
      double q = share + (1 - share) * (i + 0.5) / steps;
      sum += Math.exp(hits * Math.log(q / share) + (n - hits) * Math.log((1 - q) / (1 - share)));
    }
    return sum / steps;
  }

  /** One case for what was not run in each of two conditions; bench times in seconds. */
  @Test
  void theFileForServersCountsTheSameTrials() {
    String xml = JUnitFile.xml(header("analysis: {}"), TRIALS);
    long failures = TRIALS.stream().filter(t -> t.verdict() == Verdict.FAIL).count();
    assertEquals(3, failures);
    assertSuite(xml, "testsuites name=\"half-wet accuracy\"", 82, 3, 4, 2, "320.000");
    assertSuite(xml, "testsuite name=\"slow hand\"", 31, 0, 3, 1, "120.000");
    assertSuite(xml, "testsuite name=\"quick hand\"", 31, 2, 1, 1, "120.000");
    assertSuite(xml, "testsuite name=\"dry\"", 20, 1, 0, 0, "80.000");
  }

  private static void assertSuite(
      String xml, String begin, int tests, int failures, int errors, int skipped, String seconds) {
    says(
        xml,
        "<%s tests=\"%d\" failures=\"%d\" errors=\"%d\" skipped=\"%d\" time=\"%s\""
            .formatted(begin, tests, failures, errors, skipped, seconds));
  }

  /** Ten canals with six repeats each: every mean square has a closed form. */
  @Test
  void theSharesOfCanalsAreThoseOfTheAnalysisOfVariance() {
    String plan =
        """
        factors:
          canal: {c0: {}, c1: {}, c2: {}, c3: {}, c4: {}, c5: {}, c6: {}, c7: {}, c8: {}, c9: {}}
        analysis: {groups: [canal], margin_mm: 0.1}
        """;
    List<Condition> conditions = new ArrayList<>();
    List<TrialResult> repeats = new ArrayList<>();
    int[] within = {-25, -10, 0, 5, 10, 20};
    for (int c = 0; c < 10; c++) {
      conditions.add(new Condition("c" + c, Expectation.STOP, 6, 500, 500));
      for (int i = 0; i < 6; i++) {
        int error = 30 + 20 * c - 90 + within[i];
        repeats.add(
            SampleRun.stop(6 * c + i, error)
                .with("c" + c)
                .with(new ErrorChain(error, 0, 0, 0, 0, 0)));
      }
    }
    ReadPage grouped = new ReadPage(ReportPage.html(header(plan, conditions), repeats, Map.of()));
    double betweenSquare = 6 * 20 * 20 * 99.0 / 12 * 10 / 9; // means 20 µm apart, 9 of freedom
    double withinSquare = 10 * 1250.0 / 50;
    double between = Math.sqrt((betweenSquare - withinSquare) / 6);
    double repeatability = Math.sqrt(withinSquare);
    startsWith(grouped.finding("Between levels of canal").get(0), plain(between) + ", 95 %");
    startsWith(grouped.finding("Repeatability s_r").get(0), plain(repeatability) + ", 95 %");
    assertEquals(
        plain(Math.hypot(between, repeatability)), grouped.finding("Reproducibility s_R").get(0));
    double share = between * between / (between * between + withinSquare);
    says(grouped.finding("Between levels of canal").get(1), percent(share) + " of the variance");
    double error = Math.sqrt(betweenSquare / 60);
    double t = TDistribution.of(9).inverseCumulativeProbability(0.975);
    assertEquals(
        signed(30) + ", 95 % interval " + outward(30 - t * error, 30 + t * error),
        grouped.finding("Bias").get(0));
    double t90 = TDistribution.of(9).inverseCumulativeProbability(0.95);
    assertEquals(
        "shown: 90 % interval " + outward(30 - t90 * error, 30 + t90 * error),
        grouped.finding("Mean within ±0.1 mm").get(0));
    double[] likely = profile(betweenSquare, withinSquare, between);
    assertEquals(
        plain(between) + ", 95 % interval " + outward(likely).replace("+", ""),
        grouped.finding("Between levels of canal").get(0));
  }

  /**
   * Where twice the restricted log likelihood of a balanced design, best over the spread within, is
   * 3.841 below its peak: 9 and 50 degrees of freedom, 6 repeats.
   */
  private static double[] profile(double betweenSquare, double withinSquare, double peak) {
    ToDoubleFunction<Double> deviance =
        between -> {
          double best = Double.POSITIVE_INFINITY;
          for (double within = 5; within < 40; within += 0.02) {
            double whole = within * within + 6 * between * between;
            best =
                Math.min(
                    best,
                    9 * Math.log(whole)
                        + 9 * betweenSquare / whole
                        + 50 * Math.log(within * within)
                        + 50 * withinSquare / (within * within));
          }
          return best;
        };
    double limit = deviance.applyAsDouble(peak) + 3.841458820694124;
    double[] ends = new double[2];
    for (int end = 0; end < 2; end++) {
      double inside = peak;
      double outside = end == 0 ? 0 : 10 * peak;
      while (Math.abs(outside - inside) > 1e-3) {
        double middle = (inside + outside) / 2;
        if (deviance.applyAsDouble(middle) <= limit) {
          inside = middle;
        } else {
          outside = middle;
        }
      }
      ends[end] = inside;
    }
    return ends;
  }

  @Test
  void theSummaryForProgramsHoldsTheSameNumbers() {
    JsonNode values =
        new ObjectMapper()
            .valueToTree(
                new RunSummary(Evidence.of(header("analysis: {}"), TRIALS), Path.of("run"))
                    .values());
    assertEquals(84, values.get("planned").asInt());
    assertEquals(80, values.get("run").asInt());
    for (int i = 0; i < 2; i++) {
      JsonNode one = values.get("conditions").get(i);
      String name = i == 0 ? SLOW : QUICK;
      assertEquals(name, one.get("condition").asString());
      assertEquals(32, one.get("planned").asInt());
      assertEquals(30, one.get("run").asInt());
      assertEquals(count(name, Verdict.PASS), one.get("passed").asLong());
      assertEquals(count(name, Verdict.FAIL), one.get("failed").asLong());
      assertEquals(0, one.get("undecided").asInt());
      assertEquals(0, one.get("never_started").asInt());
      assertEquals(i, one.get("over_travel").asInt());
      assertEquals(mean(errors(name)), one.get("bias_um").asDouble(), 1e-9);
      assertEquals(deviation(errors(name)), one.get("sd_um").asDouble(), 1e-9);
      assertEquals(
          i == 0 ? "{\"LATE\":1,\"PORT_GONE\":2}" : "{}", one.get("rig_faults").toString());
    }
  }

  private long count(String condition, Verdict verdict) {
    return TRIALS.stream()
        .filter(t -> t.condition().equals(condition) && t.verdict() == verdict)
        .count();
  }

  private static List<TrialResult> trials() {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < 30; i++) {
      trials.add(
          i < 3
              ? spoiled(i, SLOW, Verdict.RIG_FAULT, i == 0 ? "LATE" : "PORT_GONE")
              : stop(i, SLOW, (i * 17 % 53 - 26) * 9 + 24, SLOW_BAND));
    }
    for (int i = 0; i < 30; i++) {
      int error = i == 5 ? -640 : i == 9 ? 420 : (i * 29 % 61 - 30) * 8 - 35;
      trials.add(
          i == 0
              ? spoiled(30, QUICK, Verdict.SAFETY_STOP, "STOP_LINE")
              : stop(30 + i, QUICK, error, QUICK_BAND));
    }
    for (int i = 0; i < 20; i++) {
      trials.add(
          i == 7
              ? stop(60 + i, DRY, 310, 0)
                  .with(Verdict.FAIL, "NOT_REFUSED", "It stopped.")
                  .with(ErrorChain.NONE)
              : SampleRun.refusal(60 + i));
    }
    return trials;
  }

  private static TrialResult spoiled(int index, String condition, Verdict verdict, String code) {
    return SampleRun.unstopped(index, condition, Expectation.STOP, verdict, code, "Spoiled.");
  }

  private static TrialResult stop(int index, String condition, int error, int band) {
    boolean good = Math.abs(error) <= band;
    int sense = error / 4;
    int filter = 10 + index % 3;
    return new TrialResult(
        index,
        condition,
        1000L + index,
        condition.equals(DRY) ? Expectation.REFUSE : Expectation.STOP,
        good ? Verdict.PASS : Verdict.FAIL,
        good ? "AT_STANDOFF" : error < -500 ? "OVER_TRAVEL" : error < 0 ? "LATE_STOP" : "EARLY",
        "A sentence.",
        true,
        500 + error,
        error,
        500 + error,
        540,
        State.HOLDING,
        Reason.STANDOFF_REACHED,
        Trust.SURE,
        Cause.NO_CAUSE,
        3_000_000_000L + 10_000_000L * index,
        4_000_000_000L,
        4000,
        0,
        index,
        new ErrorChain(sense, filter, 40, -13, -9, error - sense - filter - 18));
  }

  private static RunHeader header(String plan) {
    return header(
        plan,
        List.of(
            new Condition(SLOW, Expectation.STOP, 32, 500, SLOW_BAND),
            new Condition(QUICK, Expectation.STOP, 32, 500, QUICK_BAND),
            new Condition(DRY, Expectation.REFUSE, 20, 500, 500)));
  }

  private static RunHeader header(String plan, List<Condition> conditions) {
    RunHeader h = SampleRun.header(1, 0);
    try {
      return new RunHeader(
          h.planName(),
          plan,
          h.settingsYaml(),
          h.build(),
          h.bench(),
          h.campaignSeed(),
          conditions,
          List.of(),
          h.startedAt(),
          h.command(),
          Protocol.NONE,
          Registration.NONE,
          new Design(
              Optional.of(StatisticsReader.read(new Source("plan", plan + "\n"))),
              List.of(),
              Map.of(),
              Optional.empty(),
              true,
              ""));
    } catch (PlanException e) {
      throw new AssertionError(e);
    }
  }

  private List<TrialResult> stops(String... conditions) {
    return TRIALS.stream()
        .filter(t -> t.stopped() && List.of(conditions).contains(t.condition()))
        .toList();
  }

  private double[] errors(String... conditions) {
    return of(stops(conditions), TrialResult::stopErrorMicrons);
  }

  private static double[] of(List<TrialResult> trials, ToIntFunction<TrialResult> number) {
    return trials.stream().mapToInt(number).asDoubleStream().toArray();
  }

  private int within(String condition, int band) {
    return (int) Arrays.stream(errors(condition)).filter(e -> Math.abs(e) <= band).count();
  }

  private static double mean(double[] of) {
    double sum = 0;
    for (double one : of) {
      sum += one;
    }
    return sum / of.length;
  }

  private static double squares(double[] of) {
    double mean = mean(of);
    double sum = 0;
    for (double one : of) {
      sum += (one - mean) * (one - mean);
    }
    return sum;
  }

  private static double deviation(double[] of) {
    return Math.sqrt(squares(of) / (of.length - 1));
  }

  private static double[] meanInterval(double[] of, double confidence) {
    double t = TDistribution.of(of.length - 1.0).inverseCumulativeProbability((1 + confidence) / 2);
    double half = t * deviation(of) / Math.sqrt((double) of.length);
    return new double[] {mean(of) - half, mean(of) + half};
  }

  /** The chance of at most {@code count} of {@code n}, summed term by term. */
  private static double atMost(int count, int n, double p) {
    double sum = 0;
    for (int k = 0; k <= count; k++) {
      double term = 1;
      for (int i = 0; i < k; i++) {
        term *= (double) (n - i) / (k - i) * p;
      }
      sum += term * Math.pow(1 - p, n - (double) k);
    }
    return sum;
  }

  /** The share at which at most {@code count} of {@code n} has this chance. */
  private static double upperBound(int count, int n, double chance) {
    double low = 0;
    double high = 1;
    for (int i = 0; i < 100; i++) {
      double middle = (low + high) / 2;
      if (count < n && atMost(count, n, middle) > chance) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return count == n ? 1 : (low + high) / 2;
  }

  private static String upper(int count, int n) {
    return round(100 * upperBound(count, n, 0.05), 2, RoundingMode.CEILING) + " %";
  }

  /** Clopper and Pearson: the lower end is the upper end of the misses. */
  private static String exact(int count, int n) {
    double low = 1 - upperBound(n - count, n, 0.025);
    double high = upperBound(count, n, 0.025);
    return round(100 * low, 1, RoundingMode.FLOOR)
        + " to "
        + round(100 * high, 1, RoundingMode.CEILING)
        + " %";
  }

  private static String percent(double share) {
    return round(100 * share, 1, RoundingMode.HALF_UP) + " %";
  }

  private static String probability(double p) {
    return p < 0.0001 ? "< 0.0001" : round(p, 4, RoundingMode.HALF_UP);
  }

  private static String plain(double microns) {
    return round(microns / 1000, 3, RoundingMode.HALF_UP) + " mm";
  }

  private static String signed(double microns) {
    return sign(microns / 1000, 3) + " mm";
  }

  private static String sign(double value, int decimals) {
    return signs(round(value, decimals, RoundingMode.HALF_UP));
  }

  private static String signs(String number) {
    return number.startsWith("-")
        ? "−" + number.substring(1)
        : new BigDecimal(number).signum() == 0 ? number : "+" + number;
  }

  private static String outward(double... ends) {
    return signs(round(ends[0] / 1000, 3, RoundingMode.FLOOR))
        + " to "
        + signs(round(ends[1] / 1000, 3, RoundingMode.CEILING))
        + " mm";
  }

  /** Beyond the tenth digit lies the arithmetic of this test, not the number. */
  private static String round(double value, int decimals, RoundingMode mode) {
    return new BigDecimal(value)
        .setScale(10, RoundingMode.HALF_EVEN)
        .setScale(decimals, mode)
        .toPlainString();
  }

  private void fact(String name, int part, String text) {
    put(name + ", " + part, text, PAGE.fact(name).get(part));
  }

  private void finding(String name, String text) {
    put(name, text, PAGE.finding(name).get(0));
  }

  private void cell(String row, String column, String main, String small) {
    ReadPage.Cell cell = PAGE.cell(TABLE, row, column);
    put(row + ", " + column, main + " | " + small, cell.main() + " | " + cell.small());
  }

  private void put(String place, String text, String read) {
    expected.put(place, text);
    found.put(place, read);
  }

  private void compare() {
    assertEquals(lines(expected), lines(found));
  }

  private static String lines(Map<String, String> by) {
    StringBuilder lines = new StringBuilder();
    by.forEach((place, text) -> lines.append(place).append(": ").append(text).append('\n'));
    return lines.toString();
  }

  private static void says(String text, String part) {
    if (!text.contains(part)) {
      assertEquals(part, text);
    }
  }

  private static void startsWith(String text, String part) {
    if (!text.startsWith(part)) {
      assertEquals(part, text);
    }
  }
}
