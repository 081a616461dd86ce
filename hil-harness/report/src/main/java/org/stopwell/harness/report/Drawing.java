package org.stopwell.harness.report;

import static org.stopwell.harness.report.Axis.px;

import gg.jte.Content;
import gg.jte.TemplateOutput;
import java.math.BigDecimal;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/**
 * The one way to draw: pictures as SVG, for a page or as a file of their own. Title, description,
 * axes, ticks, marks; what a mark looks like is in {@code drawing.css}.
 */
public final class Drawing implements Content {
  /** Width of a drawing in a page, in its own units; the page scales it. */
  static final double WIDTH = 720;

  /** Where the plotting area begins: tick labels need the room, large type on a telephone too. */
  static final double LEFT = 96;

  static final double RIGHT = WIDTH - 14;

  private final String id;
  private final double width;
  private final double height;
  private final String title;
  private final String description;
  private final Markup out = new Markup();
  private final Set<String> used = new TreeSet<>(Set.of("paper"));

  /** A drawing as wide as the column of a page. */
  Drawing(String id, double height, String title, String description) {
    this(id, WIDTH, height, title, description);
  }

  /**
   * An empty drawing. A screen reader announces it as one picture with its description.
   *
   * @param id its name in the page
   * @param width in its own units
   * @param height likewise
   * @param title what it shows
   * @param description the same in a sentence with the numbers
   */
  public Drawing(String id, double width, double height, String title, String description) {
    this.id = id;
    this.width = width;
    this.height = height;
    this.title = title;
    this.description = description;
  }

  /** The drawing as part of a page. */
  String svg() {
    Markup page =
        new Markup()
            .start(
                "svg",
                "viewBox",
                "0 0 " + px(width) + " " + px(height),
                "role",
                "img",
                "aria-labelledby",
                id + "-title " + id + "-desc")
            .element("title", title, "id", id + "-title")
            .element("desc", description, "id", id + "-desc");
    return page.trusted(out.toString().strip()).end().toString();
  }

  /**
   * The drawing as a file of its own, on light paper.
   *
   * @return SVG with its styles
   */
  public String file() {
    Markup file =
        new Markup()
            .start(
                "svg",
                "xmlns",
                "http://www.w3.org/2000/svg",
                "viewBox",
                "0 0 " + px(width) + " " + px(height),
                "role",
                "img")
            .element("title", title)
            .element("desc", description)
            .element("style", Look.ofFile(used))
            .leaf("rect", "class", "paper", "width", px(width), "height", px(height));
    return file.trusted(out.toString().strip()).end().toString();
  }

  @Override
  public void writeTo(TemplateOutput output) {
    output.writeContent(svg());
  }

  /**
   * A filled rectangle.
   *
   * @param style its class
   * @param x left edge
   * @param y upper edge
   * @param wide width; nothing where it is below 0
   * @param high height, likewise
   */
  public void rect(String style, double x, double y, double wide, double high) {
    out.leaf(
        "rect",
        "class",
        use(style),
        "x",
        px(x),
        "y",
        px(y),
        "width",
        px(Math.max(0, wide)),
        "height",
        px(Math.max(0, high)));
  }

  /**
   * A straight line.
   *
   * @param style its class
   * @param x1 its start
   * @param y1 its start
   * @param x2 its end
   * @param y2 its end
   */
  public void line(String style, double x1, double y1, double x2, double y2) {
    path(style, "M" + px(x1) + " " + px(y1) + "L" + px(x2) + " " + px(y2));
  }

  /**
   * A path; nothing where it is empty.
   *
   * @param style its class
   * @param d its data
   */
  public void path(String style, String d) {
    if (!d.isEmpty()) {
      out.leaf("path", "class", use(style), "d", d);
    }
  }

  /**
   * Text.
   *
   * @param style its class
   * @param anchor which part of it stands at x: start, middle or end
   * @param x place of the anchor
   * @param y place of its base line
   * @param text the words
   */
  public void label(String style, String anchor, double x, double y, String text) {
    out.element("text", text, "class", use(style), "x", px(x), "y", px(y), "text-anchor", anchor);
  }

  private String use(String style) {
    used.addAll(Arrays.asList(style.split(" ", -1)));
    return style;
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

  /** The axis below stop errors: ticks, its name, and on which side a stop is late or early. */
  void lateToEarly(Axis x, int mostTicks, double y, String name) {
    signed(x, mostTicks, y, "← late", name, "early →");
  }

  /** An axis below with signed ticks, its name, and what lies at either end. */
  void signed(Axis x, int mostTicks, double y, String low, String name, String high) {
    line("axis", x.from(), y, x.to(), y);
    verticalTicks(x, x.ticks(mostTicks), y, true);
    label("name", "start", x.from(), y + 46, low);
    label("name", "middle", (x.from() + x.to()) / 2, y + 46, name);
    label("name", "end", x.to(), y + 46, high);
  }

  /**
   * The frame of a field of marks: ticks on both axes, the name of y above them, that of x below.
   */
  void frame(Axis x, Axis y, String nameOfX, String nameOfY) {
    horizontalTicks(y, y.ticks(6), x.to(), y.low() < 0);
    line("axis", x.from(), y.from(), x.to(), y.from());
    verticalTicks(x, x.ticks(8), y.from(), x.low() < 0);
    label("name", "middle", (x.from() + x.to()) / 2, y.from() + 46, nameOfX);
    label("name", "start", LEFT, y.to() - 11, nameOfY);
  }

  /** A line through points, for a path. */
  static String through(List<double[]> points) {
    StringBuilder path = new StringBuilder();
    for (double[] point : points) {
      path.append(path.isEmpty() ? 'M' : 'L').append(px(point[0])).append(' ').append(px(point[1]));
    }
    return path.toString();
  }

  static String number(BigDecimal value, boolean signed) {
    String digits = value.abs().toPlainString();
    return value.signum() < 0 ? "−" + digits : signed && value.signum() > 0 ? "+" + digits : digits;
  }

  /**
   * One dot, for a path with round line ends.
   *
   * @param x its middle
   * @param y its middle
   * @return data of a path
   */
  public static String dot(double x, double y) {
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
