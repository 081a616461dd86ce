package org.stopwell.harness.learn;

import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ForkJoinPool;
import java.util.function.IntFunction;
import java.util.stream.IntStream;

/**
 * Does independent pieces of work on a number of threads; results are in the order of the pieces.
 */
record Work(int jobs) {
  <T> List<T> each(int count, IntFunction<T> piece) {
    ForkJoinPool pool = new ForkJoinPool(jobs);
    try {
      return pool.submit(() -> IntStream.range(0, count).parallel().mapToObj(piece).toList()).get();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("interrupted", e);
    } catch (ExecutionException e) {
      throw e.getCause() instanceof RuntimeException cause ? cause : new IllegalStateException(e);
    } finally {
      pool.shutdown();
    }
  }
}
