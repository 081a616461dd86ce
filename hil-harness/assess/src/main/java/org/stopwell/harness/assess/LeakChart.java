package org.stopwell.harness.assess;

import java.util.List;
import java.util.Locale;

/** Error and standard error of the stops against the leak, as SVG. */
final class LeakChart {
  /** More trials than this make a drawing heavy and no clearer: one in so many is drawn. */
  private static final int MOST_DRAWN = 2000;

  private static final double WIDTH = 490;
  private static final double HEIGHT = 440;
  private static final double LEFT = 46;
  private static final double RIGHT = WIDTH - 24;
  private static final double TOP = 56;
  private static final double BOTTOM = HEIGHT - 92;
  private static final double MOST_MICRO_SIEMENS = 1000;
  private static final double MOST_MM = 1.2;

  // colours that most eyes can tell apart (Okabe and Ito 2008, from memory)
  private static final String ERROR = "#0072b2";
  private static final String STANDARD_ERROR = "#d55e00";
  private static final String REFUSED = "#009e73";

  private final StringBuilder out = new StringBuilder();

  private LeakChart() {}

  /** The drawing, with the limits of trust in mm. */
  static String of(List<VisitOutcome> outcomes, double sureMm, double refuseMm) {
    int every = Math.max(1, (outcomes.size() + MOST_DRAWN - 1) / MOST_DRAWN);
    LeakChart chart = new LeakChart();
    chart.frame(every == 1 ? "all trials" : "one in " + every + " trials");
    for (int i = 0; i < outcomes.size(); i += every) {
      VisitOutcome o = outcomes.get(i);
      if (o.stopped()) {
        chart.dot(ERROR, o.leakMicroSiemens(), Math.abs(o.errorMicrons()) * 1e-3);
        chart.dot(STANDARD_ERROR, o.leakMicroSiemens(), o.standardErrorMicrons() * 1e-3);
      } else {
        chart.dot(REFUSED, o.leakMicroSiemens(), MOST_MM);
      }
    }
    chart.limit(sureMm, "SURE below");
    chart.limit(refuseMm, "refused above");
    return chart.out.append("</svg>\n").toString();
  }

  private void frame(String drawn) {
    String title = "Error of the stop against the leak (simulated)";
    add(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %.0f %.0f\" role=\"img\""
            + " font-family=\"sans-serif\" font-size=\"15\">%n<title>%s</title>%n"
            + "<rect width=\"100%%\" height=\"100%%\" fill=\"#fff\"/>%n",
        WIDTH, HEIGHT, title);
    text(LEFT, 20, "start", title);
    text(LEFT, 42, "start", "approach, training tooth model, " + drawn + "; mm");
    for (int tick = 0; tick <= 5; tick++) {
      text(x(tick * 200.0), BOTTOM + 20, "middle", Integer.toString(tick * 200));
    }
    for (int tick = 0; tick <= 6; tick++) {
      double y = y(tick * 0.2);
      add("<path d=\"M%.1f %.1fH%.1f\" stroke=\"#ddd\"/>%n", LEFT, y, RIGHT);
      text(LEFT - 8, y + 5, "end", String.format(Locale.ROOT, "%.1f", tick * 0.2));
    }
    text(0.5 * (LEFT + RIGHT), BOTTOM + 44, "middle", "conductance around the canal, µS");
    legend(LEFT, ERROR, "error");
    legend(LEFT + 110, STANDARD_ERROR, "standard error");
    legend(LEFT + 280, REFUSED, "refused");
  }

  private void dot(String colour, double microSiemens, double mm) {
    add(
        "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"2\" fill=\"%s\" fill-opacity=\".6\"/>%n",
        x(microSiemens), y(mm), colour);
  }

  private void limit(double mm, String words) {
    add(
        "<path d=\"M%.1f %.1fH%.1f\" stroke=\"#000\" stroke-dasharray=\"6 4\"/>%n",
        LEFT, y(mm), RIGHT);
    text(RIGHT, y(mm) - 5, "end", words);
  }

  private void legend(double x, String colour, String words) {
    add("<circle cx=\"%.1f\" cy=\"%.1f\" r=\"5\" fill=\"%s\"/>%n", x + 6, HEIGHT - 19, colour);
    text(x + 18, HEIGHT - 14, "start", words);
  }

  private void text(double x, double y, String anchor, String words) {
    add("<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>%n", x, y, anchor, words);
  }

  private static double x(double microSiemens) {
    return LEFT + Math.max(0, Math.min(1, microSiemens / MOST_MICRO_SIEMENS)) * (RIGHT - LEFT);
  }

  private static double y(double mm) {
    return BOTTOM - Math.max(0, Math.min(1, mm / MOST_MM)) * (BOTTOM - TOP);
  }

  private void add(String format, Object... values) {
    out.append(String.format(Locale.ROOT, format, values));
  }
}
