package org.stopwell.harness.report;

import gg.jte.Content;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.function.IntToDoubleFunction;
import org.stopwell.harness.evidence.Decision;
import org.stopwell.harness.evidence.StoppingPath;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.stats.Anytime;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.stats.Sprt;
import org.stopwell.harness.trial.Verdict;

/** The way of a campaign to the end that its stopping rule set: a picture, and a table of it. */
final class StoppingChart {
  private static final double TOP = 14;
  private static final double HEIGHT = 230;
  private static final double RIGHT = Drawing.WIDTH - 24;
  private static final double BOTTOM = TOP + HEIGHT;

  /** So many rows of the table at round numbers of trials, and so many at trials that missed. */
  private static final int ROWS = 10;

  private final StoppingPath path;
  private final Claim claim;
  private final Optional<Decision> decision;
  private final Report report;
  private final Axis x;

  private StoppingChart(Report report, StoppingPath path) {
    this.report = report;
    this.path = path;
    this.claim = path.claim();
    this.decision = report.evidence().decision();
    int shown = decision.isPresent() ? (path.trials() * 3 + 1) / 2 + 4 : path.cap();
    this.x = new Axis(0, Math.max(2, Math.min(shown, path.cap())), Drawing.LEFT, RIGHT - 8);
  }

  /** Nothing without a stopping rule. */
  static Content of(Report report) {
    Optional<StoppingPath> path = report.evidence().path();
    if (path.isEmpty()) {
      return Html.all(List.of());
    }
    Content heading = Html.heading("How the stopping rule decided");
    if (path.get().trials() == 0) {
      return Html.all(List.of(heading, Html.paragraph("No trial counted for the stopping rule.")));
    }
    StoppingChart chart = new StoppingChart(report, path.get());
    List<Content> parts = new ArrayList<>(List.of(heading));
    switch (path.get().rule().kind()) {
      case SPRT -> chart.sprt(parts);
      case ANYTIME -> chart.anytime(parts);
      case GROUP_SEQUENTIAL -> chart.looks(parts);
      case FIXED -> {}
    }
    return Html.all(parts);
  }

  private void sprt(List<Content> out) {
    Sprt test = path.rule().sprt(claim, path.cap());
    IntToDoubleFunction accept = n -> test.acceptIntercept() + test.slope() * n;
    IntToDoubleFunction reject = n -> test.rejectIntercept() + test.slope() * n;
    int most = path.against().get(path.trials() - 1);
    double top = Math.max(most, reject.applyAsDouble((int) x.high())) + 1;
    Axis y = new Axis(0, top, BOTTOM, TOP);
    Drawing d = open("Trials against the claim, between the lines of Wald's test");
    d.horizontalTicks(y, whole(y.ticks(6)), RIGHT, false);
    int zero = (int) Math.ceil(-test.acceptIntercept() / test.slope());
    line(d, y, Math.min(zero, x.high()), accept);
    line(d, y, 0, reject);
    StringBuilder steps = new StringBuilder("M" + Axis.px(x.at(0)) + " " + Axis.px(y.at(0)));
    int last = 0;
    for (int n = 1; n <= path.trials(); n++) {
      int now = path.against().get(n - 1);
      if (now != last || n == path.trials()) {
        steps.append('H').append(Axis.px(x.at(n))).append('V').append(Axis.px(y.at(now)));
        last = now;
      }
    }
    d.path("truth", steps.toString());
    double right = x.to() - 6;
    d.label("note", "end", right, y.at(reject.applyAsDouble((int) x.high())) - 10, "contradicted");
    double acceptEnd = accept.applyAsDouble((int) x.high());
    if (acceptEnd > 0) {
      d.label("note", "end", right, y.at(acceptEnd) + 18, "holds");
    }
    end(d, y.at(most));
    out.add(
        figure(
            close(d, "↑ trials against the claim"),
            legend("trials against the claim so far", "", "Wald's lines"),
            "The campaign ends where the path meets a line: the upper one contradicts the claim, the lower"
                + " one makes it hold."));
    Table table = table("trials", "against", "holds at no more than", "contradicted from");
    for (int n : rows()) {
      String at = Integer.toString(n);
      int most0 = (int) Math.floor(accept.applyAsDouble(n));
      table.row(
          List.of(
              Table.Cell.of(at),
              cell(Integer.toString(path.against().get(n - 1)), "rule-against " + n),
              cell(most0 < 0 ? "not yet" : Integer.toString(most0), "rule-accept " + n),
              cell(
                  Integer.toString((int) Math.ceil(reject.applyAsDouble(n))), "rule-reject " + n)));
    }
    out.add(Html.table(table));
  }

  private void anytime(List<Content> out) {
    double share = claim.endpoint().isAtMost() ? 1 - claim.share() : claim.share();
    double enough = -Math.log10(1 - claim.confidence());
    if (!(share > 0 && share < 1)) {
      out.add(Html.paragraph("No evidence can be computed against a limit of 0 % or 100 %."));
      return;
    }
    IntToDoubleFunction holds =
        n -> Anytime.logEvidenceAbove(new Proportion(n - against(n), n), share);
    IntToDoubleFunction fails =
        n -> Anytime.logEvidenceAbove(new Proportion(against(n), n), 1 - share);
    Axis y = new Axis(-2, enough + 0.6, BOTTOM, TOP);
    Drawing d = open("Evidence for the claim and against it, and how much is enough");
    for (int power = -2; power <= y.high(); power++) {
      d.line("grid", Drawing.LEFT, y.at(power), RIGHT, y.at(power));
      d.label(
          "tick",
          "end",
          Drawing.LEFT - 8,
          y.at(power) + 4.5,
          BigDecimal.ONE.scaleByPowerOfTen(power).toPlainString());
    }
    d.line("bound", Drawing.LEFT, y.at(enough), RIGHT, y.at(enough));
    d.label("note", "end", x.to(), y.at(enough) - 7, "enough");
    d.path("reading", curve(y, n -> fails.applyAsDouble(n) / Math.log(10)));
    d.path("truth", curve(y, n -> holds.applyAsDouble(n) / Math.log(10)));
    double most = Math.max(holds.applyAsDouble(path.trials()), fails.applyAsDouble(path.trials()));
    end(d, y.atClamped(most / Math.log(10)));
    out.add(
        figure(
            close(d, "↑ evidence, as a factor"),
            legend(
                "evidence that the claim holds",
                "evidence that it does not",
                "enough: "
                    + new BigDecimal(Numbers.hundredths(1 / (1 - claim.confidence())))
                        .stripTrailingZeros()
                        .toPlainString()),
            "The evidence is how many times better the trials fit the shares beyond the limit than the"
                + " limit itself. Values below 0.01 are drawn at the edge."));
    Table table = table("trials", "against", "evidence that it holds", "evidence that it does not");
    for (int n : rows()) {
      table.row(
          List.of(
              Table.Cell.of(Integer.toString(n)),
              cell(Integer.toString(against(n)), "rule-against " + n),
              cell(Numbers.hundredths(Math.exp(holds.applyAsDouble(n))), "rule-for " + n),
              cell(Numbers.hundredths(Math.exp(fails.applyAsDouble(n))), "rule-contra " + n)));
    }
    out.add(Html.table(table));
  }

  private void looks(List<Content> out) {
    boolean mean = claim.endpoint() == Claim.Endpoint.BIAS;
    double scale = mean ? 1e-3 : 100;
    double limit = (mean ? claim.withinMicrons() : claim.share()) * scale;
    double low = mean ? -limit : limit;
    double high = limit;
    for (StoppingPath.Look look : path.looks()) {
      Optional<Interval> i = look.outcome().interval();
      low = Math.min(low, i.map(v -> v.low() * scale).orElse(low));
      high = Math.max(high, i.map(v -> v.high() * scale).orElse(high));
    }
    double pad = Math.max(0.06 * (high - low), 1e-3);
    Axis y = new Axis(low - pad, high + pad, BOTTOM, TOP);
    Drawing d = open(mean ? "Mean stop error at each look" : "Share of trials at each look");
    d.horizontalTicks(y, y.ticks(6), RIGHT, mean);
    d.line("bound", Drawing.LEFT, y.at(limit), RIGHT, y.at(limit));
    if (mean) {
      d.line("bound", Drawing.LEFT, y.at(-limit), RIGHT, y.at(-limit));
    }
    for (StoppingPath.Look look : path.looks()) {
      Optional<Interval> i = look.outcome().interval();
      if (i.isPresent()) {
        double px = x.at(look.trials());
        double a = y.at(i.get().low() * scale);
        double b = y.at(i.get().high() * scale);
        d.line("spread", px, a, px, b);
        d.line("spread", px - 6, a, px + 6, a);
        d.line("spread", px - 6, b, px + 6, b);
      }
    }
    out.add(
        figure(
            close(d, mean ? "↑ mean stop error, mm" : "↑ share of trials, %"),
            legend("", "", mean ? "margin" : "limit"),
            "Each bar is one look: the interval whose ends each have the confidence of that look. The claim"
                + (mean
                    ? " holds when a bar lies within the margin, and is contradicted when it lies outside."
                    : " is decided when a bar lies on one side of the limit.")));
    Table table =
        table(
            "look", "trials", "confidence", mean ? "interval of the mean" : "interval", "it said");
    for (int k = 0; k < path.looks().size(); k++) {
      StoppingPath.Look look = path.looks().get(k);
      Optional<Interval> i = look.outcome().interval();
      int number = k + 1;
      table.row(
          List.of(
              Table.Cell.of(Integer.toString(number)),
              cell(Integer.toString(look.trials()), "rule-look-trials " + number),
              cell(Numbers.plainPercent(look.confidence()), "rule-look-confidence " + number),
              cell(
                  mean ? Numbers.millimetres(i) : Numbers.percent(i),
                  "rule-look-interval " + number),
              cell(Words.claimVerdict(look.outcome().verdict()), "rule-look-verdict " + number)));
    }
    out.add(Html.table(table));
  }

  private int against(int trials) {
    return path.against().get(trials - 1);
  }

  private Drawing open(String title) {
    return new Drawing(
        "stopping",
        BOTTOM + 56,
        title + report.label(),
        path.trials()
            + " trials counted for the stopping rule of at most "
            + path.cap()
            + ". "
            + decision
                .map(
                    found ->
                        "It decided after trial "
                            + (found.index() + 1)
                            + ": the claim "
                            + (found.outcome().verdict() == Verdict.PASS
                                ? "holds."
                                : "is contradicted."))
                .orElse("It did not decide before the last trial.")
            + " The numbers stand in the table below.");
  }

  /** A line from a number of trials to the right edge. */
  private void line(Drawing d, Axis y, double from, IntToDoubleFunction at) {
    int right = (int) x.high();
    d.line(
        "bound",
        x.at(from),
        y.atClamped(at.applyAsDouble((int) from)),
        x.at(right),
        y.atClamped(at.applyAsDouble(right)));
  }

  /** One value per trial, of so many trials that the drawing can show. */
  private String curve(Axis y, IntToDoubleFunction at) {
    int step = 1 + path.trials() / 400;
    StringBuilder line = new StringBuilder();
    for (int n = 1;
        n <= path.trials();
        n = n < path.trials() ? Math.min(n + step, path.trials()) : n + 1) {
      line.append(line.length() == 0 ? 'M' : 'L')
          .append(Axis.px(x.at(n)))
          .append(' ')
          .append(Axis.px(y.atClamped(at.applyAsDouble(n))));
    }
    return line.toString();
  }

  /** Where the path ends. */
  private void end(Drawing d, double py) {
    double px = x.at(path.trials());
    d.path("miss", Drawing.diamond(px, py, 6));
  }

  private Drawing close(Drawing d, String name) {
    d.line("axis", Drawing.LEFT, BOTTOM, RIGHT, BOTTOM);
    if (x.high() == path.cap()) {
      d.line("cap", x.to(), TOP, x.to(), BOTTOM);
    }
    d.verticalTicks(x, whole(x.ticks(7)), BOTTOM, false);
    d.label("name", "end", RIGHT, BOTTOM + 46, "trials that counted →");
    d.label("name", "start", 0, BOTTOM + 46, name);
    return d;
  }

  private static List<BigDecimal> whole(List<BigDecimal> ticks) {
    return ticks.stream()
        .filter(t -> t.stripTrailingZeros().scale() <= 0)
        .map(t -> t.setScale(0))
        .toList();
  }

  private List<Legend.Entry> legend(String solid, String other, String bound) {
    return Legend.stopping(solid, other, bound, x.high() == path.cap());
  }

  private Content figure(Drawing drawing, List<Legend.Entry> legend, String caption) {
    return Html.figure(new Figure("", List.of(drawing), legend, report.nextFigure(), caption));
  }

  /** Round numbers of trials, the first trials that spoke against the claim, and the last one. */
  private SortedSet<Integer> rows() {
    SortedSet<Integer> rows = new TreeSet<>();
    new Axis(0, path.trials() + 1.0, 0, 1)
        .ticks(ROWS).stream()
            .filter(t -> t.stripTrailingZeros().scale() <= 0 && t.signum() > 0)
            .filter(t -> t.intValue() <= path.trials())
            .forEach(t -> rows.add(t.intValue()));
    int last = 0;
    for (int n = 1, shown = 0; n <= path.trials() && shown < ROWS; n++) {
      if (against(n) != last) {
        rows.add(n);
        last = against(n);
        shown++;
      }
    }
    rows.add(path.trials());
    return rows;
  }

  private static Table.Cell cell(String text, String is) {
    return Table.Cell.number(text, is);
  }

  private Table table(String... heads) {
    return new Table("Steps of the stopping rule" + report.label()).columns(Table.LEFT, heads);
  }
}
