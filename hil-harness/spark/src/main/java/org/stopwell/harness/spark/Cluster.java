package org.stopwell.harness.spark;

import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.apache.spark.SparkConf;
import org.apache.spark.api.java.JavaSparkContext;
import org.apache.spark.rdd.AsyncRDDActions;
import org.stopwell.harness.explore.EngineException;
import scala.collection.immutable.Seq;
import scala.jdk.javaapi.FutureConverters;
import scala.reflect.ClassTag;

/** The connection to a cluster. */
final class Cluster implements AutoCloseable {
  /**
   * Longest wait until a master has taken the program in, s; assumed: it takes one on a quiet
   * machine.
   */
  private static final int JOIN_S = 120;

  /** The last Java with which the Hadoop library of Spark 4.0 starts. */
  private static final int NEWEST_JAVA = 23;

  private final JavaSparkContext spark;
  private final boolean inThisProgram;

  private Cluster(JavaSparkContext spark, boolean inThisProgram) {
    this.spark = spark;
    this.inThisProgram = inThisProgram;
  }

  /**
   * Joins a cluster.
   *
   * @throws EngineException when it is not there
   */
  static Cluster join(Master master, ShippedJars jars) {
    if (Runtime.version().feature() > NEWEST_JAVA) {
      throw new EngineException(
          "--on spark: Java %d runs this program; Spark 4.0 needs Java 17 to %d (JAVA_HOME)"
              .formatted(Runtime.version().feature(), NEWEST_JAVA));
    }
    master.mustAnswer();
    SparkConf settings = settings(master, jars);
    CompletableFuture<JavaSparkContext> joined = new CompletableFuture<>();
    Thread joining =
        new Thread(
            () -> {
              try {
                joined.complete(new JavaSparkContext(settings));
              } catch (RuntimeException | Error e) {
                joined.completeExceptionally(e);
              }
            },
            "joining the cluster");
    joining.setDaemon(true);
    joining.start();
    try {
      return new Cluster(joined.get(JOIN_S, TimeUnit.SECONDS), master.inThisProgram());
    } catch (TimeoutException e) {
      throw new EngineException(
          "--master %s: something answers, but does not take this program in within %d s. Is it a master of Spark %s?"
              .formatted(master.url(), JOIN_S, org.apache.spark.package$.MODULE$.SPARK_VERSION()));
    } catch (ExecutionException e) {
      throw new EngineException("--master " + master.url() + ": " + firstLine(e));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new EngineException("--master " + master.url() + ": interrupted");
    }
  }

  /** Every setting of Spark can be given as a property of Java; these are ours where none is. */
  private static SparkConf settings(Master master, ShippedJars jars) {
    SparkConf settings =
        new SparkConf()
            .setMaster(master.url())
            .setIfMissing("spark.app.name", "stopwell")
            .setIfMissing("spark.ui.enabled", "false")
            .setIfMissing("spark.locality.wait", "0")
            // A worker that dies costs an attempt of every shard that it had.
            .setIfMissing("spark.task.maxFailures", "8")
            // What Spark remembers of past work, so that its memory does not grow with it.
            .setIfMissing("spark.ui.retainedJobs", "20")
            .setIfMissing("spark.ui.retainedStages", "20")
            .setIfMissing("spark.ui.retainedTasks", "100")
            .setIfMissing("spark.ui.retainedDeadExecutors", "10");
    if (master.loopback()) {
      settings.setIfMissing("spark.driver.host", "127.0.0.1");
    }
    settings.setJars(jars.addresses(master.inThisProgram()));
    return settings;
  }

  /** What Spark says of a failure, without the stacks that it puts below. */
  static String firstLine(Throwable failure) {
    Throwable cause = failure;
    Throwable next = cause.getCause();
    while (next != null
        && (cause instanceof ExecutionException || cause instanceof CompletionException)) {
      cause = next;
      next = cause.getCause();
    }
    String text = String.valueOf(cause.getMessage());
    return text.lines().findFirst().orElse(cause.toString());
  }

  /**
   * Shards that can be done at the same time; Spark counts two before the first worker is there.
   */
  int slots() {
    return Math.max(1, spark.sc().defaultParallelism());
  }

  /** Processes that do shards. */
  int workers() {
    return inThisProgram ? 1 : spark.sc().statusTracker().getExecutorInfos().length - 1;
  }

  /** A name that no other connection to this cluster has. */
  String id() {
    return spark.sc().applicationId();
  }

  /** Begins a shard. */
  CompletionStage<ShardAnswer> begin(ShardJob job, long from, long to) {
    var shard = spark.parallelize(List.of(new long[] {from, to}), 1).map(job).rdd();
    ClassTag<byte[]> bytes = scala.reflect.ClassTag$.MODULE$.apply(byte[].class);
    CompletionStage<Seq<byte[]>> answer =
        FutureConverters.asJava(new AsyncRDDActions<>(shard, bytes).collectAsync());
    return answer.thenApply(all -> ShardAnswer.of(all.head()));
  }

  @Override
  public void close() {
    spark.close();
  }
}
