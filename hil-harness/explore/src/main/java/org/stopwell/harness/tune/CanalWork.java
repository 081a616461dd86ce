package org.stopwell.harness.tune;

import java.io.IOException;
import java.io.NotSerializableException;
import java.util.List;
import java.util.stream.Collectors;
import org.stopwell.harness.explore.Evaluation;
import org.stopwell.harness.explore.RowSink;
import org.stopwell.harness.explore.ShardWork;

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

  /** The work without what every piece of a tuning shares. */
  static String name(List<long[]> settings, long first, long canals) {
    return first
        + " "
        + canals
        + " "
        + settings.stream()
            .map(
                one ->
                    java.util.Arrays.stream(one)
                        .mapToObj(Long::toString)
                        .collect(Collectors.joining(",")))
            .collect(Collectors.joining(";"));
  }

  /** Trials of a piece of work with that name. */
  static long trials(String name) {
    long canals = Long.parseLong(name.substring(name.indexOf(' ') + 1, name.lastIndexOf(' ')));
    return canals * (1 + name.chars().filter(c -> c == ';').count());
  }

  /** Never to other machines. */
  private Object writeReplace() throws NotSerializableException {
    throw new NotSerializableException("tuning stays in this process");
  }

  @Override
  public String fingerprint() {
    return tuning.fingerprint() + " " + name(settings, first, canals);
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
