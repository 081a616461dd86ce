package org.stopwell.harness.lies;

import static org.stopwell.harness.lies.ToothSection.line;
import static org.stopwell.harness.lies.ToothSection.move;

import java.util.List;
import java.util.Locale;
import org.stopwell.harness.lies.Gallery.Moment;
import org.stopwell.harness.lies.Gallery.Policy;
import org.stopwell.harness.lies.Gallery.Run;
import org.stopwell.harness.report.Drawing;

/** One lie: the tooth in section, and for each policy the reading against the true distance. */
final class LiePicture {
  private static final double WIDTH = 940;
  private static final double HEIGHT = 480;
  private static final double PANEL_TOP = 108;
  private static final double PANEL = 270;
  private static final double LEFT = 330;
  private static final double STEP = 312;

  /** What the panels show, mm short of the foramen. */
  private static final double FAR = 6;

  private static final double NEAR = -1.5;

  private final Gallery gallery;
  private final Lie lie;
  private final Drawing d;

  LiePicture(Gallery gallery, Lie lie) {
    this.gallery = gallery;
    this.lie = lie;
    d = new Drawing(lie.anchor(), WIDTH, HEIGHT, lie.title() + " (simulated)", lie.physics());
  }

  /** The picture as a file of its own. */
  String svg() {
    d.label("strong", "start", 12, 26, lie.title());
    d.label("tick", "end", WIDTH - 12, 26, "simulated; the tooth is drawn three times too wide");
    Run shown = gallery.runs(lie, Policy.ESTIMATE).get(0);
    new ToothSection(
            d,
            lie,
            shown.spec().scene(),
            shown.counts().shown().trueMicrons() / 1e3,
            shown.counts().levelMicrons() / 1e3)
        .draw();
    for (Policy policy : Policy.values()) {
      panel(policy, LEFT + policy.ordinal() * STEP);
    }
    legend();
    return d.file();
  }

  private void panel(Policy policy, double left) {
    Run run = gallery.runs(lie, policy).get(0);
    Run sound = gallery.sound(lie, policy).get(0);
    Ending ending = Gallery.ending(lie, run);
    double bottom = PANEL_TOP + PANEL;
    d.label("head", "start", left, 56, policy.title());
    d.label(
        ending.survival() == Survival.FOOLED ? "fooled" : "survived",
        "start",
        left,
        75,
        verdict(ending));
    double from = x(left, 1);
    d.rect("band", from, PANEL_TOP, x(left, 0) - from, PANEL);
    for (int mm = -1; mm <= FAR; mm++) {
      d.line("grid", left, y(mm), left + PANEL, y(mm));
      d.label("tick", "end", left - 6, y(mm) + 4.5, number(mm));
      d.line("axis", x(left, mm), bottom, x(left, mm), bottom + 5);
      d.label("tick", "middle", x(left, mm), bottom + 19, number(mm));
    }
    d.line("axis", left, bottom, left + PANEL, bottom);
    d.line("foramen", x(left, 0), PANEL_TOP, x(left, 0), bottom);
    d.label("note", "middle", x(left, 0.5), PANEL_TOP + 14, "band");
    d.label("note", "start", x(left, 0) + 5, PANEL_TOP + 14, "foramen");
    d.line("cap", x(left, FAR), y(FAR), x(left, NEAR), y(NEAR));
    d.path("within", bound(left, run.moments()));
    d.path("over reading", course(left, sound.moments()));
    d.path("reading", course(left, run.moments()));
    rest(left, bottom, run, ending);
    d.label("name", "middle", left + PANEL / 2, bottom + 38, "true distance to the foramen, mm");
    if (policy == Policy.ESTIMATE) {
      d.label("name", "start", left - 18, PANEL_TOP - 10, "reading, mm");
    }
    if (run.moments().stream().noneMatch(m -> m.shown().present() && inside(m))) {
      d.label("note", "middle", x(left, 4), y(-0.5), "no distance is shown");
    }
  }

  private static String verdict(Ending ending) {
    return switch (ending.survival()) {
      case NAMED, REFUSED -> ending.survival().words() + ": " + ending.shown().cause();
      case IN_BAND -> ending.survival().words();
      case FOOLED ->
          ending.pastMicrons() > 0
              ? "fooled: " + Ending.mm(ending.pastMicrons()) + " mm past the foramen"
              : "fooled by "
                  + Ending.mm(ending.wrongMicrons())
                  + " mm (bound ± "
                  + Ending.mm(ending.shown().boundMicrons())
                  + ")";
    };
  }

  private void rest(double left, double bottom, Run run, Ending ending) {
    double at = x(left, clamp(run.end().shown().trueMicrons() / 1e3));
    d.path(
        ending.survival() == Survival.FOOLED ? "deep" : "whole",
        move(at, bottom - 14) + line(at + 7, bottom) + line(at - 7, bottom) + "z");
  }

  private static boolean inside(Moment m) {
    double mm = m.shown().trueMicrons() / 1e3;
    return mm <= FAR && mm >= NEAR;
  }

  private static String course(double left, List<Moment> moments) {
    StringBuilder path = new StringBuilder();
    boolean pen = false;
    for (Moment m : moments) {
      if (!m.shown().present() || !inside(m)) {
        pen = false;
        continue;
      }
      double at = x(left, m.shown().trueMicrons() / 1e3);
      double y = y(clamp(m.shown().readingMicrons() / 1e3));
      path.append(pen ? line(at, y) : move(at, y));
      pen = true;
    }
    return path.toString();
  }

  /** One patch for each unbroken part of the course. */
  private static String bound(double left, List<Moment> moments) {
    StringBuilder path = new StringBuilder();
    int from = 0;
    for (int i = 0; i <= moments.size(); i++) {
      if (i == moments.size() || !moments.get(i).shown().present() || !inside(moments.get(i))) {
        patch(path, left, moments.subList(from, i));
        from = i + 1;
      }
    }
    return path.toString();
  }

  private static void patch(StringBuilder path, double left, List<Moment> part) {
    if (part.size() < 2) {
      return;
    }
    for (int i = 0; i < part.size(); i++) {
      path.append(edge(left, part.get(i), 1, i == 0));
    }
    for (int i = part.size() - 1; i >= 0; i--) {
      path.append(edge(left, part.get(i), -1, false));
    }
    path.append('z');
  }

  private static String edge(double left, Moment m, int sign, boolean first) {
    Ending.Shown shown = m.shown();
    double x = x(left, shown.trueMicrons() / 1e3);
    double y = y(clamp((shown.readingMicrons() + sign * shown.boundMicrons()) / 1e3));
    return first ? move(x, y) : line(x, y);
  }

  private void legend() {
    double y = HEIGHT - 18;
    d.line("reading", 308, y - 4, 332, y - 4);
    d.label("tick", "start", 337, y, "reading in this tooth");
    d.rect("within", 480, y - 11, 24, 13);
    d.label("tick", "start", 509, y, "stated bound");
    d.line("over reading", 604, y - 4, 628, y - 4);
    d.label("tick", "start", 633, y, "in a sound tooth");
    d.line("cap", 748, y - 4, 772, y - 4);
    d.label("tick", "start", 777, y, "exact");
    d.path("whole", move(834, y - 12) + line(841, y + 1) + line(827, y + 1) + "z");
    d.label("tick", "start", 847, y, "file at rest");
  }

  private static double clamp(double mm) {
    return Math.max(NEAR, Math.min(FAR, mm));
  }

  private static double x(double left, double mm) {
    return left + (FAR - mm) / (FAR - NEAR) * PANEL;
  }

  private static double y(double mm) {
    return PANEL_TOP + (FAR - mm) / (FAR - NEAR) * PANEL;
  }

  private static String number(int mm) {
    return String.format(Locale.ROOT, "%d", mm).replace('-', '−');
  }
}
