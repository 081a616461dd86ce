package org.stopwell.harness.tune;

import java.io.IOException;
import java.io.InvalidObjectException;
import java.io.NotSerializableException;
import java.io.Serializable;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import org.stopwell.harness.explore.Evaluation;
import org.stopwell.harness.explore.PackedSpace;
import org.stopwell.harness.explore.RowSink;
import org.stopwell.harness.explore.ShardWork;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.plan.TuneTarget;

/** Some settings, each in the same canals. A unit is a canal. */
final class CanalWork implements ShardWork<CanalSums> {
  private static final long serialVersionUID = 1L;

  private final transient Tuning tuning;
  private final transient List<long[]> settings;
  private final transient long first;
  private final transient long canals;

  /** The settings in some canals, from the first on. */
  CanalWork(Tuning tuning, List<long[]> settings, long first, long canals) {
    this.tuning = tuning;
    this.settings = List.copyOf(settings);
    this.first = first;
    this.canals = canals;
  }

  /** What this work is, beside what every work of a tuning shares. */
  String name() {
    return first
        + " "
        + canals
        + " "
        + settings.stream()
            .map(
                one -> Arrays.stream(one).mapToObj(Long::toString).collect(Collectors.joining(",")))
            .collect(Collectors.joining(";"));
  }

  /** Trials of work with that name. */
  static long trials(String name) {
    long canals = Long.parseLong(name.substring(name.indexOf(' ') + 1, name.lastIndexOf(' ')));
    return canals * unitTrials(name);
  }

  /** Trials in each canal of work with that name. */
  static long unitTrials(String name) {
    return 1 + name.chars().filter(c -> c == ';').count();
  }

  /**
   * The work as texts.
   *
   * @param packed the space
   * @param freshCanals canals of the judgement
   * @param settings steps of each point, one a factor
   * @param first number of the first canal
   * @param canals number of canals
   */
  private record Packed(
      PackedSpace packed, int freshCanals, List<long[]> settings, long first, long canals)
      implements Serializable {
    private Object readResolve() throws InvalidObjectException {
      try {
        Space space = packed.space();
        TuneTarget target = space.target().orElseThrow().on(freshCanals);
        return new CanalWork(
            Tuning.of(space.with(target), packed.build(), packed.periodNs(), packed.own()),
            settings,
            first,
            canals);
      } catch (PlanException e) {
        throw PackedSpace.invalid(e);
      }
    }
  }

  /**
   * For an engine on other machines.
   *
   * @return the texts of the work
   * @throws NotSerializableException for a function, which stays in this process
   */
  private Object writeReplace() throws NotSerializableException {
    return new Packed(tuning.packed(), tuning.target().freshCanals(), settings, first, canals);
  }

  @Override
  public String fingerprint() {
    return tuning.fingerprint() + " " + name();
  }

  @Override
  public long units() {
    return canals;
  }

  @Override
  public int unitTrials() {
    return settings.size();
  }

  @Override
  public CanalSums empty() {
    return new CanalSums(settings.size());
  }

  @Override
  public CanalSums read(byte[] bytes) throws IOException {
    return CanalSums.read(bytes, settings.size());
  }

  @Override
  public CanalSums shard(long from, long to, RowSink rows) {
    CanalSums sums = empty();
    Evaluation[] results = new Evaluation[settings.size()];
    for (long canal = from; canal < to; canal++) {
      for (int i = 0; i < results.length; i++) {
        results[i] = tuning.trial(settings.get(i), first + canal);
      }
      sums.add(results);
    }
    return sums;
  }
}
