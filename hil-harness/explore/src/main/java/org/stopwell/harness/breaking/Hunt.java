package org.stopwell.harness.breaking;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.IntFunction;
import java.util.function.Supplier;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.stopwell.harness.explore.Workers;
import org.stopwell.rig.random.RandomStream;

/**
 * The search itself, on any field. Every start has random numbers of its own, so the number of
 * workers changes no answer.
 */
final class Hunt {
  /** Disturbances that are refined at the end; assumed. */
  private static final int REFINED = 4;

  /** Shares with which an ingredient alone is tried: more is not always worse. */
  private static final double[] ALONE = {1, 0.75, 0.5, 0.25};

  /** So many times the wanted canals are looked at for calm ones; assumed. */
  private static final int MOST_BLOCKS = 10;

  private final Ground field;
  private final Effort effort;
  private final Workers workers;
  private final BreakState state;
  private final Watcher watcher;
  private long trials;
  private int nearest = Integer.MAX_VALUE;

  /**
   * How much is tried.
   *
   * @param canals canals, each with its own noise, at least 1
   * @param starts random disturbances to set out from, at least 1
   * @param steps trials of the walk from each, at least 1
   * @param seed seed of everything random
   */
  record Effort(int canals, int starts, int steps, long seed) {}

  /** Sees what goes on, from any thread. */
  interface Watcher {
    /** So many parts of the search are planned, the finished ones included. */
    void planned(int parts);

    /** A part of the search has ended. */
    void ended();

    /** A disturbance over-travels; not yet shrunk. */
    void found(Found found);
  }

  /**
   * An ingredient without the others.
   *
   * @param ingredient which
   * @param shares of all; empty when it does not over-travel at its limit and at quarters of it
   */
  record Alone(Ingredient ingredient, Optional<Found> shares) {}

  /**
   * What was found.
   *
   * @param smallest the smallest disturbance; empty when there is none
   * @param aloneIn the canal of the smallest, or the first one
   * @param alone each ingredient of hand and noise alone, in that canal
   * @param nearest least clearance of the trials that did not over-travel, µm
   * @param looked canals that were looked at
   * @param undisturbed how many of them over-travel without a disturbance
   * @param trials trials of all parts
   */
  record Catch(
      Optional<Found> smallest,
      int aloneIn,
      List<Alone> alone,
      int nearest,
      int looked,
      int undisturbed,
      long trials) {}

  Hunt(Ground field, Effort effort, Workers workers, BreakState state, Watcher watcher) {
    this.field = field;
    this.effort = effort;
    this.workers = workers;
    this.state = state;
    this.watcher = watcher;
  }

  Catch hunt() {
    List<Integer> calm = new ArrayList<>();
    List<Found> undisturbed = new ArrayList<>();
    int looked = 0;
    while (calm.size() < effort.canals() && looked < MOST_BLOCKS * effort.canals()) {
      looked = look(looked, calm, undisturbed);
    }
    if (calm.isEmpty()) {
      return new Catch(
          undisturbed.stream().findFirst(), 0, List.of(), nearest, looked, looked, trials);
    }
    int parts = looked + effort.starts();
    watcher.planned(parts);
    List<Found> found = new ArrayList<>();
    for (Piece walked :
        parts("walk", 0, effort.starts(), i -> walk(i, calm.get(i % calm.size())))) {
      walked.found().ifPresent(found::add);
      nearest = Math.min(nearest, walked.nearest());
    }
    int canal = found.stream().min(Found.SMALLEST).map(Found::canal).orElse(calm.get(0));
    List<Alone> alone = alone(canal, parts);
    alone.forEach(a -> a.shares().ifPresent(found::add));
    List<Found> best = found.stream().sorted(Found.SMALLEST).limit(REFINED).toList();
    watcher.planned(parts + alone.size() + best.size());
    List<Piece> refined = parts("refine", 0, best.size(), i -> refine(best.get(i), i));
    Optional<Found> smallest =
        refined.stream()
            .map(piece -> piece.found().orElseThrow())
            .min(Found.SMALLEST)
            .or(() -> undisturbed.stream().findFirst());
    return new Catch(smallest, canal, alone, nearest, looked, undisturbed.size(), trials);
  }

  /** Parts of one kind. What is finished already is not done again. */
  private List<Piece> parts(String kind, int from, int count, IntFunction<Piece> work) {
    List<Piece> pieces =
        workers.each(count, i -> part(kind + " " + (from + i), () -> work.apply(from + i)));
    pieces.forEach(piece -> trials += piece.trials());
    return pieces;
  }

  private Piece part(String name, Supplier<Piece> work) {
    Optional<Piece> known = state.find(name);
    if (known.isPresent()) {
      known.get().found().filter(f -> f.size() > 0).ifPresent(watcher::found);
      return known.get();
    }
    Piece piece = work.get();
    state.keep(name, piece);
    watcher.ended();
    return piece;
  }

  /** Looks at one more block of canals, for as many calm ones as are wanted. */
  private int look(int from, List<Integer> calm, List<Found> undisturbed) {
    watcher.planned(from + effort.canals() + effort.starts());
    List<Piece> block = parts("canal", from, effort.canals(), this::undisturbed);
    for (int i = 0; i < block.size(); i++) {
      Optional<Found> past = block.get(i).found();
      past.ifPresent(undisturbed::add);
      if (past.isEmpty() && calm.size() < effort.canals()) {
        calm.add(from + i);
      }
    }
    return from + effort.canals();
  }

  private Piece undisturbed(int canal) {
    Arena arena = field.arena(canal, 0);
    double[] none = new double[arena.ingredients().size()];
    Optional<Found> past =
        arena.isPast(none) ? Optional.of(Found.of(canal, 0, arena, none)) : Optional.empty();
    return new Piece(past, Integer.MAX_VALUE, arena.trials());
  }

  /** Every second start has a fault where there is something else to try. */
  private int fault(int start) {
    if (field.faults() == 0) {
      return 0;
    }
    if (!field.hasMore()) {
      return 1 + start % field.faults();
    }
    return start % 2 == 0 ? 0 : 1 + start / 2 % field.faults();
  }

  private Piece walk(int start, int canal) {
    int fault = fault(start);
    Arena arena = field.arena(canal, fault);
    if (arena.ingredients().isEmpty()) {
      return new Piece(Optional.empty(), Integer.MAX_VALUE, arena.trials());
    }
    Climb climb = new Climb(arena, report(canal, fault, arena));
    Optional<Found> found =
        climb
            .fromChance(RandomStream.of(effort.seed(), "disturbance " + start), effort.steps())
            .map(past -> Found.of(canal, fault, arena, new Shrink(arena).least(past)));
    found.ifPresent(watcher::found);
    return new Piece(found, climb.nearest(), arena.trials());
  }

  private Consumer<double[]> report(int canal, int fault, Arena arena) {
    return shares -> watcher.found(Found.of(canal, fault, arena, shares));
  }

  private List<Alone> alone(int canal, int before) {
    List<Ingredient> ingredients = field.arena(canal, 0).ingredients();
    watcher.planned(before + ingredients.size());
    List<Piece> pieces = parts("alone", 0, ingredients.size(), i -> byItself(canal, i));
    return IntStream.range(0, pieces.size())
        .mapToObj(i -> new Alone(ingredients.get(i), pieces.get(i).found()))
        .toList();
  }

  private Piece byItself(int canal, int i) {
    Arena arena = field.arena(canal, 0);
    Optional<Found> found =
        Arrays.stream(ALONE)
            .flatMap(
                share ->
                    arena.ingredients().get(i).twoSided()
                        ? DoubleStream.of(share, -share)
                        : DoubleStream.of(share))
            .mapToObj(
                share -> {
                  double[] shares = new double[arena.ingredients().size()];
                  shares[i] = share;
                  return shares;
                })
            .filter(arena::isPast)
            .map(shares -> Found.of(canal, 0, arena, new Shrink(arena).least(shares)))
            .min(Found.SMALLEST);
    return new Piece(found, Integer.MAX_VALUE, arena.trials());
  }

  private Piece refine(Found from, int number) {
    Arena arena = field.arena(from.canal(), from.fault());
    RandomStream random = RandomStream.of(effort.seed(), "refinement " + number);
    double[] near =
        new Climb(arena, report(from.canal(), from.fault(), arena))
            .near(from.array(), random, effort.steps());
    double[] least = new Shrink(arena).least(near);
    Found found = Found.of(from.canal(), from.fault(), arena, least);
    return new Piece(
        Optional.of(found.size() < from.size() ? found : from), Integer.MAX_VALUE, arena.trials());
  }
}
