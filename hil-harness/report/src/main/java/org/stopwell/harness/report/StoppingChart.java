package org.stopwell.harness.report;

import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.function.IntToDoubleFunction;
import org.stopwell.harness.evidence.Decision;
import org.stopwell.harness.evidence.Evidence;
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
  private final String label;
  private final Axis x;

  private StoppingChart(Evidence evidence, StoppingPath path, String label) {
    this.path = path;
    this.claim = path.claim();
    this.decision = evidence.decision();
    this.label = label;
    int shown = decision.isPresent() ? (path.trials() * 3 + 1) / 2 + 4 : path.cap();
    this.x = new Axis(0, Math.max(2, Math.min(shown, path.cap())), Drawing.LEFT, RIGHT - 8);
  }

  /** Nothing without a stopping rule. */
  static void write(Markup out, Evidence evidence, String label) {
    if (evidence.path().isEmpty()) {
      return;
    }
    out.element("h3", "The way to the end");
    StoppingPath path = evidence.path().get();
    if (path.trials() == 0) {
      out.element("p", "No trial counted for the stopping rule.");
      return;
    }
    StoppingChart chart = new StoppingChart(evidence, path, label);
    switch (path.rule().kind()) {
      case SPRT -> chart.sprt(out);
      case ANYTIME -> chart.anytime(out);
      case GROUP_SEQUENTIAL -> chart.looks(out);
      case FIXED -> {}
    }
  }

  private void sprt(Markup out) {
    Sprt test = path.rule().sprt(claim, path.cap());
    IntToDoubleFunction accept = n -> test.acceptIntercept() + test.slope() * n;
    IntToDoubleFunction reject = n -> test.rejectIntercept() + test.slope() * n;
    int most = path.against().get(path.trials() - 1);
    double top = Math.max(most, reject.applyAsDouble((int) x.high())) + 1;
    Axis y = new Axis(0, top, BOTTOM, TOP);
    Drawing d = open(out, "Trials against the claim, between the lines of Wald's test");
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
    close(d, "↑ trials against the claim");
    legend(out, "trials against the claim so far", "", "Wald's lines");
    caption(
        out,
        " The campaign ends where the path meets a line: the upper one contradicts the claim, the lower"
            + " one makes it hold.");
    table(out, "trials", "against", "holds at no more than", "contradicted from");
    for (int n : rows()) {
      String at = Integer.toString(n);
      int most0 = (int) Math.floor(accept.applyAsDouble(n));
      row(
          out,
          at,
          cell(Integer.toString(path.against().get(n - 1)), "rule-against " + n),
          cell(most0 < 0 ? "not yet" : Integer.toString(most0), "rule-accept " + n),
          cell(Integer.toString((int) Math.ceil(reject.applyAsDouble(n))), "rule-reject " + n));
    }
    ProtocolSection.close(out);
  }

  private void anytime(Markup out) {
    double share =
        claim.endpoint() == Claim.Endpoint.OVER_TRAVEL ? 1 - claim.share() : claim.share();
    double enough = -Math.log10(1 - claim.confidence());
    if (!(share > 0 && share < 1)) {
      out.element("p", "Against a share of 0 or 1 there is no evidence to be had.");
      return;
    }
    IntToDoubleFunction holds =
        n -> Anytime.logEvidenceAbove(new Proportion(n - against(n), n), share);
    IntToDoubleFunction fails =
        n -> Anytime.logEvidenceAbove(new Proportion(against(n), n), 1 - share);
    Axis y = new Axis(-2, enough + 0.6, BOTTOM, TOP);
    Drawing d = open(out, "Evidence for the claim and against it, and how much is enough");
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
    close(d, "↑ evidence, as a factor");
    legend(
        out,
        "evidence that the claim holds",
        "evidence that it does not",
        "enough: "
            + new BigDecimal(Numbers.hundredths(1 / (1 - claim.confidence())))
                .stripTrailingZeros()
                .toPlainString());
    caption(
        out,
        " The evidence is how many times better the trials fit the shares beyond the limit than the"
            + " limit itself. What lies below 0.01 is drawn at the edge.");
    table(out, "trials", "against", "evidence that it holds", "evidence that it does not");
    for (int n : rows()) {
      row(
          out,
          Integer.toString(n),
          cell(Integer.toString(against(n)), "rule-against " + n),
          cell(Numbers.hundredths(Math.exp(holds.applyAsDouble(n))), "rule-for " + n),
          cell(Numbers.hundredths(Math.exp(fails.applyAsDouble(n))), "rule-contra " + n));
    }
    ProtocolSection.close(out);
  }

  private void looks(Markup out) {
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
    Drawing d = open(out, mean ? "Mean stop error at each look" : "Share of trials at each look");
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
    close(d, mean ? "↑ mean stop error, mm" : "↑ share of trials, %");
    legend(out, "", "", mean ? "margin" : "limit");
    caption(
        out,
        " Each bar is one look: the interval whose ends each have the confidence of that look. The claim"
            + (mean
                ? " holds when a bar lies within the margin, and is contradicted when it lies outside."
                : " is decided when a bar lies on one side of the limit."));
    table(
        out, "look", "trials", "confidence", mean ? "interval of the mean" : "interval", "it said");
    for (int k = 0; k < path.looks().size(); k++) {
      StoppingPath.Look look = path.looks().get(k);
      Optional<Interval> i = look.outcome().interval();
      int number = k + 1;
      row(
          out,
          Integer.toString(number),
          cell(Integer.toString(look.trials()), "rule-look-trials " + number),
          cell(Numbers.plainPercent(look.confidence()), "rule-look-confidence " + number),
          cell(mean ? Numbers.millimetres(i) : Numbers.percent(i), "rule-look-interval " + number),
          cell(Words.claimVerdict(look.outcome().verdict()), "rule-look-verdict " + number));
    }
    ProtocolSection.close(out);
  }

  private int against(int trials) {
    return path.against().get(trials - 1);
  }

  private Drawing open(Markup out, String title) {
    out.start("figure");
    return new Drawing(
        out,
        "stopping",
        BOTTOM + 56,
        title + label,
        path.trials()
            + " trials counted for the stopping rule of at most "
            + path.cap()
            + ". "
            + decision
                .map(
                    found ->
                        "It came to its end after trial "
                            + (found.index() + 1)
                            + ": the claim "
                            + (found.outcome().verdict() == Verdict.PASS
                                ? "holds."
                                : "is contradicted."))
                .orElse("It came to no decision before the last trial.")
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

  private void close(Drawing d, String name) {
    d.line("axis", Drawing.LEFT, BOTTOM, RIGHT, BOTTOM);
    if (x.high() == path.cap()) {
      d.line("cap", x.to(), TOP, x.to(), BOTTOM);
    }
    d.verticalTicks(x, whole(x.ticks(7)), BOTTOM, false);
    d.label("name", "end", RIGHT, BOTTOM + 46, "trials that counted →");
    d.label("name", "start", 0, BOTTOM + 46, name);
    d.close();
  }

  private static List<BigDecimal> whole(List<BigDecimal> ticks) {
    return ticks.stream()
        .filter(t -> t.stripTrailingZeros().scale() <= 0)
        .map(t -> t.setScale(0))
        .toList();
  }

  private void legend(Markup out, String solid, String other, String bound) {
    Legend.stopping(out, solid, other, bound, x.high() == path.cap());
  }

  private void caption(Markup out, String text) {
    out.caption(label);
    out.text(Words.tied(text)).end().end();
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

  private record Cell(String text, String what) {}

  private static Cell cell(String text, String what) {
    return new Cell(text, what);
  }

  private void table(Markup out, String... heads) {
    ProtocolSection.table(out, "The way to the end, in numbers" + label, heads);
  }

  private static void row(Markup out, String head, Cell... cells) {
    out.start("tr").element("th", head, "scope", "row");
    for (Cell cell : cells) {
      out.start("td", "class", "left");
      Recomputation.number(out, cell.text(), cell.what()).end();
    }
    out.end();
  }
}
