package org.stopwell.harness.cli;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.stopwell.harness.breaking.BreakResult;
import org.stopwell.harness.report.TextTable;

/** What a search for the smallest disturbance found, for people and for programs. */
final class BreakLines {
  private BreakLines() {}

  /** The comment at the top of the written plan. */
  static List<String> heading(BreakResult result) {
    BreakResult.Breach breach = result.breach().orElseThrow();
    List<String> lines = new ArrayList<>();
    lines.add(
        text(
            "Over-travel of plan %s, condition %s, found by stopwell break, simulated.",
            result.plan(), result.condition()));
    lines.add(
        breach.parts().isEmpty()
            ? "Nothing disturbs this trial."
            : text("Size %.3f, the sum of the shares of the limits:", breach.size()));
    for (BreakResult.Part part : breach.parts()) {
      lines.add("  " + part.key() + ": " + part.value() + share(part));
    }
    return lines;
  }

  private static String share(BreakResult.Part part) {
    return part.limit().isEmpty()
        ? " (any time costs nothing)"
        : text(
            " (%s in the plan, limit %s, share %.3f)",
            part.plan(), part.limit(), Math.abs(part.share()));
  }

  static void print(BreakResult result, Consumer<String> lines) {
    lines.accept(result.plan() + ", " + result.condition() + ", simulated");
    if (!result.complete()) {
      lines.accept("Interrupted: the smallest disturbance so far counts; it is not shrunk.");
    }
    result.breach().ifPresentOrElse(b -> breach(b, lines), () -> nothing(result, lines));
    lines.accept(
        text(
            "Effort: %,d trials, %d random starts, %d canals; %s.",
            result.trials(), result.starts(), result.canals(), what(result)));
    if (result.undisturbed() > 0) {
      lines.accept(
          text(
              "%d of %d canals pass the foramen without any disturbance; rare states how often.%s",
              result.undisturbed(),
              result.canals(),
              result.alone().isEmpty() ? "" : " The search is about the others."));
    }
    if (!result.alone().isEmpty()) {
      lines.accept("");
      lines.accept("Each alone, without a fault, in the canal of the finding or the first one:");
      alone(result.alone(), lines);
    }
    if (!result.still().isEmpty()) {
      lines.accept(
          "No part in it, because the plan states the limit or more, or the hand of the plan does not do it: "
              + String.join(", ", result.still()));
    }
  }

  private static String what(BreakResult result) {
    return result.groups().stream()
        .map(g -> g.equals("faults") ? result.kinds().size() + " kinds of fault" : g)
        .collect(Collectors.joining(", "));
  }

  private static void nothing(BreakResult result, Consumer<String> lines) {
    if (!result.complete()) {
      lines.accept("Nothing was found before the interruption.");
      return;
    }
    lines.accept("No disturbance within the limits was found that passes the foramen.");
    lines.accept(
        text(
            "The nearest trial came to %.3f mm short of it. This proves nothing: more --starts"
                + " can find what these did not.",
            result.nearestMicrons() / 1e3));
  }

  private static void breach(BreakResult.Breach breach, Consumer<String> lines) {
    if (breach.parts().isEmpty()) {
      lines.accept(
          text("The file goes past the foramen without any disturbance (seed %d).", breach.seed()));
      return;
    }
    lines.accept(
        text(
            "The file goes past the foramen with a disturbance of size %.2f (sum of the shares).",
            breach.size()));
    TextTable table = new TextTable("lrrrrl");
    table.row("disturbance", "in the plan", "here", "limit", "share", "unit");
    for (BreakResult.Part part : breach.parts()) {
      boolean free = part.limit().isEmpty();
      table.row(
          part.key(),
          part.plan(),
          part.value(),
          free ? "–" : part.limit(),
          free ? "–" : text("%.2f", Math.abs(part.share())),
          part.unit());
    }
    table.print(lines);
    breach
        .deepestMicrons()
        .ifPresent(
            deepest ->
                lines.accept(text("The tip goes to %.3f mm past the foramen.", -deepest / 1e3)));
    breach
        .margin()
        .ifPresent(
            m ->
                lines.accept(
                    text(
                        "Other canals and noise of the plan: past the foramen in %d of %d seeds;"
                            + " with 0.95 of the disturbance in %d of %d, and not in this one.",
                        m.past(), m.seeds(), m.pastBelow(), m.seeds())));
  }

  private static void alone(List<BreakResult.Single> alone, Consumer<String> lines) {
    TextTable table = new TextTable("lrrrrl");
    table.row("disturbance", "in the plan", "passes at", "limit", "share", "unit");
    for (BreakResult.Single single : alone) {
      BreakResult.Part part = single.part();
      table.row(
          part.key(),
          part.plan(),
          single.past() ? part.value() : "not",
          part.limit(),
          single.past() ? text("%.2f", Math.abs(part.share())) : "–",
          part.unit());
    }
    table.print(lines);
  }

  static Map<String, Object> values(BreakResult result) {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("plan", result.plan());
    all.put("condition", result.condition());
    all.put("simulated", true);
    all.put("complete", result.complete());
    all.put("found", result.breach().isPresent());
    all.put("trials", result.trials());
    all.put("starts", result.starts());
    all.put("canals", result.canals());
    all.put("canals_past_undisturbed", result.undisturbed());
    all.put("groups", result.groups());
    all.put("fault_kinds", result.kinds());
    if (result.nearestMicrons() < Integer.MAX_VALUE) {
      all.put("nearest_mm", result.nearestMicrons() / 1e3);
    }
    result
        .breach()
        .ifPresent(
            b -> {
              all.put("seed", b.seed());
              all.put("size", b.size());
              all.put("disturbance", b.parts().stream().map(BreakLines::values).toList());
              b.deepestMicrons().ifPresent(d -> all.put("remaining_mm", d / 1e3));
              b.margin()
                  .ifPresent(
                      m -> {
                        all.put("seeds", m.seeds());
                        all.put("seeds_past", m.past());
                        all.put("seeds_past_at_0.95", m.pastBelow());
                      });
            });
    all.put(
        "alone",
        result.alone().stream()
            .map(
                single -> {
                  Map<String, Object> one = values(single.part());
                  one.put("past", single.past());
                  return one;
                })
            .toList());
    all.put("no_part", result.still());
    return all;
  }

  private static Map<String, Object> values(BreakResult.Part part) {
    Map<String, Object> one = new LinkedHashMap<>();
    one.put("key", part.key());
    one.put("unit", part.unit());
    one.put("in_plan", part.plan());
    one.put("value", part.value());
    one.put("limit", part.limit());
    one.put("share", part.share());
    return one;
  }

  private static String text(String format, Object... args) {
    return String.format(Locale.ROOT, format, args);
  }
}
