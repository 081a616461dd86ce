package org.stopwell.harness.rare;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.Scene;

/** How trials that reach the event differ from those of the plan, and which of them are typical. */
public final class Ways {
  /** A value counts as different from this many standard errors on; assumed. */
  private static final double NOTABLE = 3;

  private Ways() {}

  /**
   * A value of the scene that tends to differ where the event happens.
   *
   * @param key section and key
   * @param usual mean over the plan, or share of the word
   * @param here mean over the trials that reach the event, or share of the word
   * @param shift difference in standard deviations of the plan
   */
  public record Difference(String key, double usual, double here, double shift) {}

  /**
   * What differs, the most different first.
   *
   * @param usual scenes of the plan
   * @param here scenes of trials that reach the event
   * @return values whose mean differs by more than chance
   */
  static List<Difference> differences(List<Scene> usual, List<Scene> here) {
    List<Difference> all = new ArrayList<>();
    Scene.tables()
        .forEach(
            (section, table) ->
                table
                    .parameters()
                    .forEach(
                        p -> {
                          for (String word : words(p)) {
                            double[] before = values(usual, section, p, word);
                            double[] now = values(here, section, p, word);
                            double sd = Math.sqrt(variance(before));
                            double difference = mean(now) - mean(before);
                            double error = sd * Math.sqrt(1.0 / before.length + 1.0 / now.length);
                            if (Math.abs(difference) > NOTABLE * error && sd > 0) {
                              all.add(
                                  new Difference(
                                      section
                                          + "."
                                          + p.key()
                                          + (word.isEmpty() ? "" : " = " + word),
                                      mean(before),
                                      mean(now),
                                      difference / sd));
                            }
                          }
                        }));
    all.sort(Comparator.comparingDouble(d -> -Math.abs(d.shift())));
    return all;
  }

  /**
   * Scenes that stand for many: the one nearest to the middle, then each time the one farthest from
   * those before it.
   *
   * @param here scenes of trials that reach the event
   * @param count how many at most
   * @return their places in the list
   */
  static List<Integer> typical(List<Scene> here, int count) {
    List<double[]> points = points(here);
    double[] middle = new double[points.get(0).length];
    points.forEach(p -> Arrays.setAll(middle, i -> middle[i] + p[i] / points.size()));
    List<Integer> chosen = new ArrayList<>();
    chosen.add(best(points, p -> -distance(p, middle)));
    while (chosen.size() < count) {
      int next =
          best(
              points,
              p -> chosen.stream().mapToDouble(c -> distance(p, points.get(c))).min().orElse(0));
      if (distance(points.get(next), points.get(chosen.get(0))) == 0 || chosen.contains(next)) {
        break;
      }
      chosen.add(next);
    }
    return chosen;
  }

  private interface Merit {
    double of(double[] point);
  }

  private static int best(List<double[]> points, Merit merit) {
    return IntStream.range(0, points.size())
        .boxed()
        .max(Comparator.comparingDouble(i -> merit.of(points.get(i))))
        .orElseThrow();
  }

  /** Numbers of the scenes that vary, each in units of its own standard deviation. */
  private static List<double[]> points(List<Scene> scenes) {
    List<double[]> columns = new ArrayList<>();
    Scene.tables()
        .forEach(
            (section, table) ->
                table
                    .parameters()
                    .forEach(
                        p ->
                            words(p)
                                .forEach(word -> columns.add(values(scenes, section, p, word)))));
    columns.removeIf(c -> variance(c) == 0);
    return IntStream.range(0, scenes.size())
        .mapToObj(i -> columns.stream().mapToDouble(c -> c[i] / Math.sqrt(variance(c))).toArray())
        .toList();
  }

  private static double distance(double[] a, double[] b) {
    return IntStream.range(0, a.length).mapToDouble(i -> (a[i] - b[i]) * (a[i] - b[i])).sum();
  }

  /** The words of a choice, each of which is a value of its own; one empty word for a number. */
  private static List<String> words(Parameter p) {
    return p.kind() == Parameter.Kind.CHOICE ? p.choices() : List.of("");
  }

  private static double[] values(List<Scene> scenes, String section, Parameter p, String word) {
    return scenes.stream().mapToDouble(s -> value(s.section(section), p, word)).toArray();
  }

  private static double value(ParameterValues values, Parameter p, String word) {
    return word.isEmpty()
        ? values.get(p) / Math.pow(10, p.decimals())
        : values.choice(p).equals(word) ? 1 : 0;
  }

  private static double mean(double[] values) {
    return Arrays.stream(values).average().orElse(0);
  }

  private static double variance(double[] values) {
    double mean = mean(values);
    return Arrays.stream(values).map(x -> (x - mean) * (x - mean)).sum()
        / Math.max(1, values.length - 1);
  }
}
