package org.stopwell.harness.report;

/** What the marks of a drawing mean: below it, as a list that wraps. */
final class Legend {
  private Legend() {}

  static void runOrder(Markup out) {
    out.start("ul", "class", "key");
    mark(out, "dot", Drawing.dot(12, 8), "stopped within the band");
    mark(out, "miss", Drawing.diamond(12, 8, 5), "outside of it, or no stop");
    mark(
        out, "deep", Drawing.triangle(12, 8, 5, true), "over-travel at any moment, or safety stop");
    mark(out, "open", Drawing.dot(12, 8), "no stop at the standoff, as the plan expects");
    mark(out, "rig", Drawing.square(12, 8, 4), "spoiled by the rig");
    out.end();
  }

  static void distribution(Markup out) {
    out.start("ul", "class", "key");
    mark(out, "mean", Drawing.triangle(12, 9, 5, false), "mean");
    mark(out, "spread", "M2 8h20", "one standard deviation to each side");
    mark(out, "aim", "M12 1v14", "standoff");
    block(out, "band", "tolerance band");
    out.end();
  }

  static void trace(Markup out) {
    out.start("ul", "class", "key");
    mark(out, "truth", "M1 8h22", "true distance to the foramen");
    mark(out, "reading", "M1 8h22", "what the controller read");
    mark(out, "stop", "M12 1v14", "decision to stop");
    mark(out, "aim", "M1 8h22", "standoff");
    mark(out, "foramen", "M1 8h22", "foramen");
    block(out, "block TURNING", "TURNING: driving");
    block(out, "block EASING", "EASING: slowed");
    block(out, "block HOLDING", "HOLDING: stopped");
    out.end();
  }

  /** Lines without a meaning are not drawn. */
  static void stopping(Markup out, String solid, String other, String bound, boolean cap) {
    out.start("ul", "class", "key");
    if (!solid.isEmpty()) {
      mark(out, "truth", "M1 8h22", solid);
      mark(out, "miss", Drawing.diamond(12, 8, 6), "where it stood at the end");
    } else {
      mark(out, "spread", "M12 1v14M6 1h12M6 15h12", "one look");
    }
    if (!other.isEmpty()) {
      mark(out, "reading", "M1 8h22", other);
    }
    mark(out, "bound", "M1 8h22", bound);
    if (cap) {
      mark(out, "cap", "M12 1v14", "most trials");
    }
    out.end();
  }

  private static void mark(Markup out, String style, String path, String meaning) {
    entry(out).leaf("path", "class", style, "d", path).end();
    out.text(meaning).end();
  }

  private static void block(Markup out, String style, String meaning) {
    entry(out).leaf("rect", "class", style, "width", "24", "height", "16").end();
    out.text(meaning).end();
  }

  private static Markup entry(Markup out) {
    return out.start("li").startInline("svg", "viewBox", "0 0 24 16", "aria-hidden", "true");
  }
}
