package org.stopwell.harness.learn;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.stopwell.core.weights.DepthBound;
import org.stopwell.core.weights.DepthLayer;
import org.stopwell.core.weights.DepthNetwork;
import org.stopwell.core.weights.DepthPass;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.harness.assess.FloatLayers;
import org.stopwell.harness.assess.Quantiser;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.rig.random.RandomStream;

/**
 * Teaches the depth estimate with measured teeth. How far it moves from the weights that it starts
 * from is chosen by cross-validation over teeth. Every number of the result comes from teeth that
 * the network in question was not taught with.
 */
public final class Learning {
  /** Seed of the folds and of the fits. */
  static final long SEED = 880_022;

  /** Numbers of steps to choose from; 0 stays with the start. */
  private static final int[] STEPS = {0, 25, 50, 100, 200, 400, 800, 1600, 3200};

  /** Most steps per tooth: more follow the taught teeth and not the next one. */
  private static final int STEPS_PER_TOOTH = 16;

  private static final int FOLDS = 5;

  /** With fewer teeth than this the folds are smaller, so that each fit has nearly all teeth. */
  private static final int FEW = 40;

  private static final int FOLDS_OF_FEW = 10;

  /** Fewest teeth of a point of the curve over the number of teeth. */
  private static final int LEAST_POINT = 5;

  /** Draws of teeth for each point of that curve. */
  private static final int DRAWS = 2;

  /** Most teeth that a point of that curve is judged on, per draw. */
  private static final int JUDGED = 60;

  /** A novelty up to this many times the greatest one of the teeth left out is not new; assumed. */
  private static final double NOVELTY_MARGIN = 1.25;

  /** Most readings of the picture. */
  private static final int MOST_DRAWN = 4000;

  private final LearnChoice choice;
  private final int stepsPerTooth;
  private final StartWeights start;
  private final Work work;
  private final Consumer<String> say;

  /**
   * A teaching.
   *
   * @param choice what to learn from
   * @param say receives a line for each step
   */
  public Learning(LearnChoice choice, Consumer<String> say) {
    this(choice, say, STEPS_PER_TOOTH);
  }

  /** A teaching with a smaller number of steps, for tests. */
  Learning(LearnChoice choice, Consumer<String> say, int stepsPerTooth) {
    this.stepsPerTooth = stepsPerTooth;
    this.choice = choice;
    this.say = say;
    start = new StartWeights(choice.start(), choice.file().isEmpty());
    work = new Work(choice.jobs());
  }

  /** A fit that is yet to be made: which teeth, and the network after each number of steps. */
  private record Task(List<List<TaughtApproach>> teeth, List<Integer> marks, long seed) {
    Task(List<List<TaughtApproach>> teeth, int[] marks, long seed) {
      this(teeth, Arrays.stream(marks).boxed().toList(), seed);
    }

    int[] steps() {
      return marks.stream().mapToInt(Integer::intValue).toArray();
    }
  }

  /**
   * Learns.
   *
   * @param read is run after each trace that was read
   * @return weights, and what the teeth left out say of them
   * @throws TraceException when the traces cannot be learned from, with every mistake, at most 20
   */
  public LearnResult run(Runnable read) throws TraceException {
    double[] file =
        choice
            .file()
            .map(f -> new double[] {f.size(), f.taperPercent()})
            .orElseGet(() -> new double[2]);
    TaughtTeeth taught = TaughtTeeth.read(choice.directory(), start, file, work, read);
    List<List<TaughtApproach>> teeth = shuffled(taught.teeth());
    int n = teeth.size();
    int folds = n < FEW ? FOLDS_OF_FEW : FOLDS;
    int[] marks = marks(n);
    List<Task> tasks = new ArrayList<>();
    for (int fold = 0; fold < folds; fold++) {
      tasks.add(new Task(part(teeth, fold, folds, false), marks, SEED + fold));
    }
    List<int[]> points = points(n);
    for (int[] point : points) {
      List<List<TaughtApproach>> some = teeth.subList(point[1], point[1] + point[0]);
      tasks.add(new Task(some, marks(point[0]), SEED + 100 + point[1]));
    }
    say.accept("fitting " + tasks.size() + " times with teeth left out, " + n + " teeth in all");
    // the longest first, so that no thread waits for the last
    List<List<FloatLayers>> fits = work.each(tasks.size(), i -> fit(tasks.get(i)));
    say.accept("judging the teeth left out");
    double[] losses = losses(teeth, fits, folds, marks.length);
    int chosen = least(losses);
    List<DecidingReading> held = held(teeth, fits, folds, chosen);
    List<LearnPoint> curve = curve(teeth, points, fits.subList(folds, fits.size()));
    DecidingReading.Estimate untaught = DecidingReading.untaught();
    List<DecidingReading> before =
        taught.approaches().stream().map(a -> DecidingReading.of(a, untaught)).toList();
    say.accept("fitting with all teeth, " + marks[chosen] + " steps");
    FloatLayers last =
        chosen == 0
            ? start.layers()
            : fit(new Task(teeth, new int[] {marks[chosen]}, SEED + 1000)).get(0);
    List<List<DecidingReading>> deciding = Promise.byTooth(held);
    OptionalDouble factor = Promise.factor(deciding, choice.confident(), SEED);
    Promise promise = Promise.of(deciding.size(), choice.confident());
    double limit = limit(teeth, folds);
    DepthWeights weights = weights(taught, last, marks[chosen], factor, promise, limit);
    return new LearnResult(
        choice,
        taught,
        weights,
        marks,
        losses,
        chosen,
        moved(last),
        factor,
        held,
        before,
        coverage(teeth, held, folds),
        curve,
        readings(teeth, fits, folds, chosen));
  }

  private static List<List<TaughtApproach>> shuffled(List<List<TaughtApproach>> teeth) {
    List<List<TaughtApproach>> order = new ArrayList<>(teeth);
    RandomStream random = RandomStream.of(SEED, "teeth");
    for (int i = order.size() - 1; i > 0; i--) {
      int j = (int) ((i + 1) * random.nextDouble());
      List<TaughtApproach> swap = order.get(i);
      order.set(i, order.get(j));
      order.set(j, swap);
    }
    return order;
  }

  private int[] marks(int teeth) {
    return Arrays.stream(STEPS).filter(s -> s <= stepsPerTooth * teeth).toArray();
  }

  /** The teeth of a fold, or all others. */
  private static <T> List<T> part(List<T> teeth, int fold, int folds, boolean own) {
    return IntStream.range(0, teeth.size())
        .filter(i -> (i % folds == fold) == own)
        .mapToObj(teeth::get)
        .toList();
  }

  /** Points of the curve over the number of teeth: how many teeth, and the first of them. */
  private static List<int[]> points(int teeth) {
    List<int[]> points = new ArrayList<>();
    for (int size = teeth / 2; size >= LEAST_POINT; size /= 2) {
      for (int draw = 0; draw < DRAWS; draw++) {
        points.add(new int[] {size, draw * size});
      }
    }
    return points;
  }

  private List<FloatLayers> fit(Task task) {
    RandomStream random = RandomStream.of(task.seed(), "teeth of a fit");
    return new FineTuning(start.layers(), task.teeth(), start.scale(0), random).run(task.steps());
  }

  private double[] losses(
      List<List<TaughtApproach>> teeth, List<List<FloatLayers>> fits, int folds, int marks) {
    List<Double> all =
        work.each(
            folds * marks,
            i -> {
              List<List<TaughtApproach>> own = part(teeth, i / marks, folds, true);
              FloatLayers layers = fits.get(i / marks).get(i % marks);
              return own.size() * DecidingReading.meanLoss(own, DecidingReading.by(layers));
            });
    double[] losses = new double[marks];
    for (int i = 0; i < all.size(); i++) {
      losses[i % marks] += all.get(i) / teeth.size();
    }
    return losses;
  }

  private static int least(double[] losses) {
    int least = 0;
    for (int i = 1; i < losses.length; i++) {
      least = losses[i] < losses[least] ? i : least;
    }
    return least;
  }

  /** The decisions in every tooth by the network of its fold as a controller runs it, in order. */
  private List<DecidingReading> held(
      List<List<TaughtApproach>> teeth, List<List<FloatLayers>> fits, int folds, int chosen) {
    List<List<DecidingReading>> all =
        work.each(
            teeth.size(),
            i -> {
              DepthNetwork network =
                  start.whole(fits.get(i % folds).get(chosen), examples(teeth, i % folds, folds));
              DepthPass pass = new DepthPass(network);
              return teeth.get(i).stream()
                  .map(a -> DecidingReading.of(a, DecidingReading.by(pass, start)))
                  .toList();
            });
    return all.stream().flatMap(List::stream).toList();
  }

  /** Some readings of every approach by the network of its fold, for the picture. */
  private List<LearnReading> readings(
      List<List<TaughtApproach>> teeth, List<List<FloatLayers>> fits, int folds, int chosen) {
    int each = Math.max(1, MOST_DRAWN / teeth.stream().mapToInt(List::size).sum());
    return work
        .each(
            teeth.size(),
            i -> {
              DecidingReading.Estimate estimate =
                  DecidingReading.by(fits.get(i % folds).get(chosen));
              List<LearnReading> found = new ArrayList<>();
              double[] out = new double[2];
              for (TaughtApproach approach : teeth.get(i)) {
                for (int k = 0; k < each; k++) {
                  int reading = k * approach.readings() / each;
                  estimate.of(approach, reading, out);
                  double truth = approach.truth(reading);
                  found.add(new LearnReading(truth, out[0] - approach.target(reading)));
                }
              }
              return found;
            })
        .stream()
        .flatMap(List::stream)
        .filter(r -> r.truthMm() < TaughtApproach.FAR_MM)
        .toList();
  }

  /** Some inputs, by which the quantiser knows how great the hidden values become. */
  private float[] examples(List<List<TaughtApproach>> teeth, int fold, int folds) {
    List<TaughtApproach> from =
        part(teeth, fold, folds, false).stream().flatMap(List::stream).toList();
    int width = DepthWeights.INPUTS;
    int each = 8;
    float[] examples = new float[from.size() * each * width];
    float[] in = new float[width];
    double[] features = new double[width];
    int n = 0;
    for (TaughtApproach approach : from) {
      for (int k = 0; k < each; k++) {
        approach.inputs(k * approach.readings() / each, in);
        start.features(in, 0, features);
        for (double feature : features) {
          examples[n++] = (float) feature;
        }
      }
    }
    return examples;
  }

  private List<LearnPoint> curve(
      List<List<TaughtApproach>> teeth, List<int[]> points, List<List<FloatLayers>> fits) {
    List<LearnPoint> found =
        work.each(
            points.size(),
            i -> {
              int size = points.get(i)[0];
              List<List<TaughtApproach>> others = new ArrayList<>();
              for (int k = 0; k < teeth.size() - size && k < JUDGED; k++) {
                others.add(teeth.get((points.get(i)[1] + size + k) % teeth.size()));
              }
              List<FloatLayers> marks = fits.get(i);
              double[] losses =
                  marks.stream()
                      .mapToDouble(l -> DecidingReading.meanLoss(others, DecidingReading.by(l)))
                      .toArray();
              FloatLayers layers = marks.get(least(losses));
              return LearnPoint.of(
                  size,
                  others.stream()
                      .flatMap(List::stream)
                      .map(a -> DecidingReading.of(a, DecidingReading.by(layers)))
                      .toList());
            });
    return LearnPoint.merged(found);
  }

  /** For each decision that stopped: whether a bound made without its fold covers it. */
  private List<CoveredDecision> coverage(
      List<List<TaughtApproach>> teeth, List<DecidingReading> held, int folds) {
    List<CoveredDecision> covered = new ArrayList<>();
    List<String> names = teeth.stream().map(t -> t.get(0).tooth).toList();
    for (int fold = 0; fold < folds; fold++) {
      int own = fold;
      List<DecidingReading> others =
          held.stream().filter(d -> names.indexOf(d.approach().tooth) % folds != own).toList();
      OptionalDouble factor = Promise.factor(Promise.byTooth(others), choice.confident(), SEED);
      if (factor.isPresent()) {
        held.stream()
            .filter(d -> d.stopped() && names.indexOf(d.approach().tooth) % folds == own)
            .forEach(d -> covered.add(new CoveredDecision(d, factor.getAsDouble())));
      }
    }
    return covered;
  }

  private double limit(List<List<TaughtApproach>> teeth, int folds) {
    List<Double> greatest =
        work.each(
            folds,
            f -> Novelty.of(part(teeth, f, folds, false)).greatest(part(teeth, f, folds, true)));
    double most = 0;
    for (double one : greatest) {
      most = Math.max(most, one);
    }
    return NOVELTY_MARGIN * Math.max(1, most);
  }

  private List<Double> moved(FloatLayers last) {
    FloatLayers first = start.layers();
    return IntStream.range(0, first.rows().length).mapToObj(l -> last.movedFrom(first, l)).toList();
  }

  private DepthWeights weights(
      TaughtTeeth taught,
      FloatLayers last,
      int steps,
      OptionalDouble factor,
      Promise promise,
      double limit) {
    // no fold is left out of the examples
    float[] examples = examples(taught.teeth(), -1, 1);
    DepthLayer sums =
        Quantiser.layer(
            Novelty.of(taught.teeth()).rows(),
            DepthNetwork.INPUT_BITS,
            DepthBound.SUM_BITS,
            Quantiser.BITS);
    DepthWeights from = choice.start();
    String recipe =
        "taught with "
            + taught.count()
            + " measured teeth, "
            + taught.approaches().size()
            + " approaches, in "
            + (taught.fluids().size() == 1 ? "fluid " : "fluids ")
            + String.join("; ", taught.fluids())
            + "; "
            + steps
            + " steps from weights "
            + from.fingerprintText()
            + "; data "
            + DataHash.of(taught);
    return new DepthWeights(
        new DepthWeights.Origin(
            recipe,
            choice.build(),
            SEED,
            from.origin().canals(),
            taught.teeth().stream().map(t -> t.get(0).tooth).toList(),
            promise.words),
        new DepthWeights.Validity(
            from.validity().hertz(),
            from.validity().sizes(),
            from.validity().tapers(),
            taught.fluids()),
        start.whole(last, examples),
        Optional.empty(),
        new DepthBound(
            sums,
            new double[] {0},
            new double[] {
              factor.isPresent() ? kept(factor.getAsDouble()) : Double.POSITIVE_INFINITY
            },
            kept(limit)));
  }

  /** As a weights file keeps it, rounded up. */
  private static double kept(double value) {
    return Math.ceil(1e6 * value) / 1e6;
  }
}
