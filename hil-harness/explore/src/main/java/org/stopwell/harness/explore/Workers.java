package org.stopwell.harness.explore;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.IntFunction;

/**
 * Threads for independent pieces of work. The results come in the order of the pieces, so their
 * number changes no answer.
 */
public final class Workers implements AutoCloseable {
  private final ExecutorService threads;

  /** The work was given up. */
  public static final class Abandoned extends RuntimeException {
    private static final long serialVersionUID = 1;

    /** Given up. */
    public Abandoned() {
      super("given up", null, false, false);
    }
  }

  /**
   * Some workers.
   *
   * @param jobs pieces at the same time, at least 1
   */
  public Workers(int jobs) {
    threads = Executors.newFixedThreadPool(jobs);
  }

  /**
   * Does all pieces.
   *
   * @param <T> a result
   * @param count how many pieces
   * @param work a piece, by its number
   * @return the results, by number
   * @throws Abandoned when a piece was given up
   */
  public <T> List<T> each(int count, IntFunction<T> work) {
    List<Future<T>> running = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      int number = i;
      running.add(threads.submit(() -> work.apply(number)));
    }
    return running.stream().map(Workers::get).toList();
  }

  private static <T> T get(Future<T> future) {
    try {
      return future.get();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new Abandoned();
    } catch (ExecutionException e) {
      if (e.getCause() instanceof RuntimeException known) {
        throw known;
      }
      throw new IllegalStateException("a trial failed with an unexpected error", e.getCause());
    }
  }

  @Override
  public void close() {
    threads.shutdownNow();
  }
}
