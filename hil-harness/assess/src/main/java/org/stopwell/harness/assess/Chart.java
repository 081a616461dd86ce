package org.stopwell.harness.assess;

import java.util.Locale;
import java.util.Map;

/** A drawing with two axes, as SVG that needs nothing beside it. */
final class Chart {
  private static final double WIDTH = 720;
  private static final double HEIGHT = 420;
  private static final double LEFT = 70;
  private static final double RIGHT = WIDTH - 170;
  private static final double TOP = 40;
  private static final double BOTTOM = HEIGHT - 60;

  /** Colours that stay apart for most eyes (Okabe and Ito 2008, from memory). */
  static final String[] COLOURS = {"#0072b2", "#d55e00", "#009e73", "#cc79a7", "#56b4e9"};

  private final StringBuilder out = new StringBuilder();
  private final double x1;
  private final double x2;
  private final double y1;
  private final double y2;
  private final boolean logY;
  private int entries;

  Chart(
      String title, String x, double x1, double x2, String y, double y1, double y2, boolean logY) {
    this.x1 = x1;
    this.x2 = x2;
    this.y1 = y1;
    this.y2 = y2;
    this.logY = logY;
    add(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %.0f %.0f\" role=\"img\""
            + " font-family=\"sans-serif\" font-size=\"13\">%n<title>%s</title>%n"
            + "<rect width=\"100%%\" height=\"100%%\" fill=\"#fff\"/>%n",
        WIDTH, HEIGHT, title);
    text(LEFT, 22, "start", title);
    text((LEFT + RIGHT) / 2, HEIGHT - 16, "middle", x);
    add(
        "<text transform=\"translate(18 %.1f) rotate(-90)\" text-anchor=\"middle\">%s</text>%n",
        (TOP + BOTTOM) / 2, y);
    add(
        "<path d=\"M%.1f %.1fV%.1fH%.1f\" fill=\"none\" stroke=\"#444\"/>%n",
        LEFT, TOP, BOTTOM, RIGHT);
  }

  void xTicks(double... values) {
    for (double v : values) {
      add("<path d=\"M%.1f %.1fv5\" stroke=\"#444\"/>%n", px(v), BOTTOM);
      text(px(v), BOTTOM + 20, "middle", number(v));
    }
  }

  void yTicks(double... values) {
    for (double v : values) {
      add("<path d=\"M%.1f %.1fH%.1f\" stroke=\"#ddd\"/>%n", LEFT, py(v), RIGHT);
      text(LEFT - 8, py(v) + 4, "end", number(v));
    }
  }

  void line(int colour, double width, double[] x, double[] y) {
    StringBuilder d = new StringBuilder();
    for (int i = 0; i < x.length; i++) {
      d.append(String.format(Locale.ROOT, "%s%.1f %.1f", i == 0 ? "M" : "L", px(x[i]), py(y[i])));
    }
    add(
        "<path d=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"%.1f\"/>%n",
        d, COLOURS[colour], width);
  }

  void dot(int colour, double x, double y) {
    add(
        "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"2\" fill=\"%s\" fill-opacity=\".6\"/>%n",
        px(x), py(y), COLOURS[colour]);
  }

  void limit(double y, String words) {
    add(
        "<path d=\"M%.1f %.1fH%.1f\" stroke=\"#000\" stroke-dasharray=\"6 4\"/>%n",
        LEFT, py(y), RIGHT);
    text(RIGHT + 6, py(y) + 4, "start", words);
  }

  void legend(int colour, String words) {
    double y = TOP + 8 + 20 * entries++;
    add(
        "<path d=\"M%.1f %.1fh14\" stroke=\"%s\" stroke-width=\"4\"/>%n",
        RIGHT + 8, y, COLOURS[colour]);
    text(RIGHT + 28, y + 4, "start", words);
  }

  private double px(double v) {
    return LEFT + Math.max(0, Math.min(1, (v - x1) / (x2 - x1))) * (RIGHT - LEFT);
  }

  private double py(double v) {
    double share = logY ? StrictMath.log(v / y1) / StrictMath.log(y2 / y1) : (v - y1) / (y2 - y1);
    return BOTTOM - Math.max(0, Math.min(1, share)) * (BOTTOM - TOP);
  }

  private static String number(double v) {
    return v == Math.rint(v)
        ? Long.toString((long) v).replace('-', '−')
        : Double.toString(v).replace('-', '−');
  }

  private void text(double x, double y, String anchor, String words) {
    add("<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>%n", x, y, anchor, escape(words));
  }

  static String escape(String words) {
    String safe = words;
    for (Map.Entry<String, String> e : Map.of("<", "&lt;", ">", "&gt;").entrySet()) {
      safe = safe.replace(e.getKey(), e.getValue());
    }
    return safe;
  }

  private void add(String format, Object... values) {
    out.append(String.format(Locale.ROOT, format, values));
  }

  String svg() {
    return out + "</svg>\n";
  }
}
