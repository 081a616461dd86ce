package org.stopwell.harness.trial;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Function;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.policy.Stopping;
import org.stopwell.core.policy.TorqueReaction;
import org.stopwell.core.policy.TrustPolicy;
import org.stopwell.core.sense.LearnedCanal;
import org.stopwell.core.sense.Measurement;
import org.stopwell.core.sense.Sensing;
import org.stopwell.harness.trial.PolicyFailure.Kind;
import org.stopwell.rig.time.MachineClock;

/**
 * Watches the policies of one extension. A policy that throws, that does not return, or that
 * allocates memory in the step ends the trial with a {@link PolicyFailure} that names it.
 *
 * <p>A thread that does not return cannot be ended by the program: it is left behind, and a
 * campaign stops there. Memory is counted as the running program allocates it: what the compiler
 * removes is not seen, and the first calls of a trial, which load classes, do not count.
 */
public final class PolicyGuard implements Policies.Wrapper {
  /** A call that computes for longer has not returned, ns; assumed: 1000 steps. */
  private static final long LONGEST_CPU_NS = 1_000_000_000;

  /** A call that waits for longer has not returned, ns; assumed: more than a busy machine makes. */
  private static final long LONGEST_NS = 10_000_000_000L;

  /** How often the watchdog looks, ms; assumed. */
  private static final long LOOK_MS = 50;

  /** Calls of a policy in a trial before its memory counts; assumed. */
  private static final int WARM_UP = 200;

  /** Calls that may allocate after that: branches that run for the first time; assumed. */
  private static final int ALLOWED = 20;

  private static final java.lang.management.ThreadMXBean THREADS =
      ManagementFactory.getThreadMXBean();

  private static final ThreadLocal<Calls> CALLS = ThreadLocal.withInitial(Calls::new);

  private final String extension;

  /**
   * A guard.
   *
   * @param extension the file that the policies come from
   */
  public PolicyGuard(String extension) {
    this.extension = extension;
  }

  /** What the policies of one thread do now. */
  private static final class Calls {
    volatile @Nullable String inside;
    volatile long sinceNs;
    volatile boolean given;
  }

  /**
   * Does work in which policies are called. With policies from outside it runs on a thread of its
   * own, and a watchdog looks at it.
   *
   * @param <T> what comes of it
   * @param policies the policies that it may call
   * @param work the work
   * @param stuck what comes of it when a policy does not return
   * @return the result
   */
  public static <T> T call(Policies policies, Supplier<T> work, Function<PolicyFailure, T> stuck) {
    if (!policies.isWrapped()) {
      return work.get();
    }
    AtomicReference<Calls> calls = new AtomicReference<>();
    AtomicReference<Supplier<T>> end = new AtomicReference<>();
    Thread thread =
        new Thread(
            () -> {
              calls.set(CALLS.get());
              end.set(done(work));
            },
            "policies");
    thread.setDaemon(true);
    thread.start();
    boolean interrupted = false;
    Optional<String> name = Optional.empty();
    long sinceNs = 0;
    long cpuNs = 0;
    while (thread.isAlive() && name.isEmpty()) {
      try {
        thread.join(LOOK_MS);
      } catch (InterruptedException e) {
        interrupted = true;
      }
      Calls now = calls.get();
      @Nullable String inside = now == null ? null : now.inside;
      long cpu = THREADS.getThreadCpuTime(thread.getId());
      if (now == null || inside == null || now.sinceNs != sinceNs) {
        sinceNs = now == null ? 0 : now.sinceNs;
        cpuNs = cpu;
      } else if (cpu - cpuNs > LONGEST_CPU_NS || MachineClock.nowNs() - sinceNs > LONGEST_NS) {
        now.given = true;
        name = Optional.of(inside);
      }
    }
    if (interrupted) {
      Thread.currentThread().interrupt();
    }
    if (name.isPresent()) {
      return stuck.apply(
          new PolicyFailure(Kind.POLICY_STUCK, name.get() + " did not return from a step."));
    }
    return Objects.requireNonNull(end.get()).get();
  }

  /** What work ended with: a result, or what it threw. */
  private static <T> Supplier<T> done(Supplier<T> work) {
    try {
      T result = work.get();
      return () -> result;
    } catch (RuntimeException e) {
      return () -> {
        throw e;
      };
    } catch (Error e) {
      return () -> {
        throw e;
      };
    }
  }

  /** One policy of one controller. */
  private final class Guarded {
    private final String title;
    private final Calls calls = CALLS.get();
    private int count;
    private int allocating;
    private long bytes;

    Guarded(String name) {
      title = title(name);
    }

    void enter() {
      count++;
      bytes = allocated();
      calls.sinceNs = MachineClock.nowNs();
      calls.inside = title;
    }

    void leave() {
      calls.inside = null;
      if (calls.given) {
        throw new PolicyFailure(Kind.POLICY_STUCK, title + " came back too late.");
      }
      if (allocated() != bytes && count > WARM_UP && ++allocating > ALLOWED) {
        throw new PolicyFailure(
            Kind.POLICY_ALLOCATED,
            title
                + " allocates memory in the step: in "
                + allocating
                + " of "
                + (count - WARM_UP)
                + " steps; none may.");
      }
    }

    PolicyFailure threw(Throwable cause) {
      calls.inside = null;
      if (cause instanceof OutOfMemoryError memory) {
        throw memory; // The memory is the program's, whoever asked for the last of it.
      }
      return cause instanceof PolicyFailure failure ? failure : failed(title, cause);
    }
  }

  private String title(String name) {
    return "Policy " + name + " (" + extension + ")";
  }

  private static PolicyFailure failed(String title, Throwable cause) {
    StackTraceElement[] trace = cause.getStackTrace();
    String where = trace.length == 0 ? "" : " at " + trace[0];
    String said = cause.getMessage() == null ? "" : ": " + cause.getMessage();
    return new PolicyFailure(
        Kind.POLICY_THREW,
        title + " threw " + cause.getClass().getSimpleName() + said + where + ".");
  }

  private static long allocated() {
    return THREADS instanceof ThreadMXBean counting ? counting.getCurrentThreadAllocatedBytes() : 0;
  }

  @Override
  public <T> T make(String name, Supplier<T> maker) {
    try {
      return Objects.requireNonNull(maker.get(), "nothing was made");
    } catch (RuntimeException | LinkageError e) {
      throw failed(title(name), e);
    }
  }

  @Override
  public Sensing sensing(String name, Sensing policy) {
    return new GuardedSensing(new Guarded(name), policy);
  }

  /** A sensing policy under watch. What is not the step itself is not measured. */
  private record GuardedSensing(Guarded guarded, Sensing policy) implements Sensing {
    @Override
    public void read(ControllerInput in, Measurement out) {
      guarded.enter();
      try {
        policy.read(in, out);
      } catch (RuntimeException | Error e) {
        throw guarded.threw(e);
      }
      guarded.leave();
    }

    @Override
    public Optional<LearnedCanal> learned() {
      try {
        return policy.learned();
      } catch (RuntimeException | Error e) {
        throw guarded.threw(e);
      }
    }

    @Override
    public boolean recall(LearnedCanal canal) {
      try {
        return policy.recall(canal);
      } catch (RuntimeException | Error e) {
        throw guarded.threw(e);
      }
    }

    @Override
    public void forget() {
      guarded.enter();
      try {
        policy.forget();
      } catch (RuntimeException | Error e) {
        throw guarded.threw(e);
      }
      guarded.leave();
    }

    @Override
    public long mixInto(long hash) {
      guarded.enter();
      long mixed;
      try {
        mixed = policy.mixInto(hash);
      } catch (RuntimeException | Error e) {
        throw guarded.threw(e);
      }
      guarded.leave();
      return mixed;
    }
  }

  @Override
  public Stopping stopping(String name, Stopping policy) {
    Guarded guarded = new Guarded(name);
    return (remaining, closing, coastNs) -> {
      guarded.enter();
      double rest;
      try {
        rest = policy.atRest(remaining, closing, coastNs);
      } catch (RuntimeException | Error e) {
        throw guarded.threw(e);
      }
      guarded.leave();
      return rest;
    };
  }

  @Override
  public TorqueReaction torque(String name, TorqueReaction policy) {
    Guarded guarded = new Guarded(name);
    return (set, used, retries) -> {
      guarded.enter();
      Reaction reaction;
      try {
        reaction = Objects.requireNonNull(policy.onLimit(set, used, retries), "no reaction");
      } catch (RuntimeException | Error e) {
        throw guarded.threw(e);
      }
      guarded.leave();
      return reaction;
    };
  }

  @Override
  public TrustPolicy trust(String name, TrustPolicy policy) {
    Guarded guarded = new Guarded(name);
    return (Trust trust, Cause cause, Reaction onDoubtful, Reaction onNone) -> {
      guarded.enter();
      Reaction reaction;
      try {
        reaction =
            Objects.requireNonNull(policy.onLost(trust, cause, onDoubtful, onNone), "no reaction");
      } catch (RuntimeException | Error e) {
        throw guarded.threw(e);
      }
      guarded.leave();
      return reaction;
    };
  }
}
