package org.stopwell.harness.report;

import static org.stopwell.harness.report.Axis.px;

import gg.jte.Content;
import gg.jte.TemplateOutput;
import java.math.BigDecimal;
import java.util.List;

/** Draws pictures as SVG: frame, title, description, axes, ticks, marks. */
final class Drawing implements Content {
  /** Width of every drawing in its own units; the page scales it. */
  static final double WIDTH = 720;

  /** Where the plotting area begins: tick labels need the room, large type on a telephone too. */
  static final double LEFT = 96;

  static final double RIGHT = WIDTH - 14;

  private final Markup out = new Markup();

  /** Opens a drawing that a screen reader announces as one picture with its description. */
  Drawing(String id, double height, String title, String description) {
    out.start(
        "svg",
        "viewBox",
        "0 0 " + px(WIDTH) + " " + px(height),
        "role",
        "img",
        "aria-labelledby",
        id + "-title " + id + "-desc");
    out.element("title", title, "id", id + "-title");
    out.element("desc", description, "id", id + "-desc");
  }

  private Drawing() {}

  /**
   * Opens a drawing that is a file of its own.
   *
   * @param width of the drawing in its own units
   * @param height likewise
   * @param title what it shows
   * @param description the same in a sentence with the numbers
   * @param style what its classes look like, as CSS
   */
  static Drawing file(double width, double height, String title, String description, String style) {
    Drawing drawing = new Drawing();
    drawing.out.start(
        "svg",
        "xmlns",
        "http://www.w3.org/2000/svg",
        "viewBox",
        "0 0 " + px(width) + " " + px(height),
        "role",
        "img");
    drawing.out.element("title", title).element("desc", description).element("style", style);
    drawing.rect("paper", 0, 0, width, height);
    return drawing;
  }

  /** The drawing, to which nothing is added any more. */
  Drawing close() {
    out.end();
    return this;
  }

  String svg() {
    return out.toString();
  }

  @Override
  public void writeTo(TemplateOutput output) {
    output.writeContent(svg());
  }

  void rect(String style, double x, double y, double width, double height) {
    out.leaf(
        "rect",
        "class",
        style,
        "x",
        px(x),
        "y",
        px(y),
        "width",
        px(Math.max(0, width)),
        "height",
        px(Math.max(0, height)));
  }

  void line(String style, double x1, double y1, double x2, double y2) {
    path(style, "M" + px(x1) + " " + px(y1) + "L" + px(x2) + " " + px(y2));
  }

  void path(String style, String d) {
    if (!d.isEmpty()) {
      out.leaf("path", "class", style, "d", d);
    }
  }

  /** Text whose anchor is start, middle or end. */
  void label(String style, String anchor, double x, double y, String text) {
    out.element("text", text, "class", style, "x", px(x), "y", px(y), "text-anchor", anchor);
  }

  /** Faint lines across, with their values at the left. */
  void horizontalTicks(Axis y, List<BigDecimal> ticks, double right, boolean signed) {
    for (BigDecimal tick : ticks) {
      double at = y.at(tick.doubleValue());
      line("grid", LEFT, at, right, at);
      label("tick", "end", LEFT - 8, at + 4.5, number(tick, signed));
    }
  }

  /** Short marks below, with their values. */
  void verticalTicks(Axis x, List<BigDecimal> ticks, double y, boolean signed) {
    for (BigDecimal tick : ticks) {
      double at = x.at(tick.doubleValue());
      line("axis", at, y, at, y + 5);
      label("tick", "middle", at, y + 20, number(tick, signed));
    }
  }

  static String number(BigDecimal value, boolean signed) {
    String digits = value.abs().toPlainString();
    return value.signum() < 0 ? "−" + digits : signed && value.signum() > 0 ? "+" + digits : digits;
  }

  /** One dot, for a path with round line ends. */
  static String dot(double x, double y) {
    return "M" + px(x) + " " + px(y) + "h0";
  }

  /** A diamond around a place. */
  static String diamond(double x, double y, double r) {
    return "M" + px(x) + " " + px(y - r) + "l" + px(r) + " " + px(r) + "l" + px(-r) + " " + px(r)
        + "l" + px(-r) + " " + px(-r) + "z";
  }

  /** A triangle around a place, its point down or up. */
  static String triangle(double x, double y, double r, boolean down) {
    double s = down ? 1 : -1;
    return "M"
        + px(x)
        + " "
        + px(y + s * r)
        + "l"
        + px(-r)
        + " "
        + px(-s * 1.8 * r)
        + "h"
        + px(2 * r)
        + "z";
  }

  /** A square around a place. */
  static String square(double x, double y, double r) {
    return "M"
        + px(x - r)
        + " "
        + px(y - r)
        + "h"
        + px(2 * r)
        + "v"
        + px(2 * r)
        + "h"
        + px(-2 * r)
        + "z";
  }
}
