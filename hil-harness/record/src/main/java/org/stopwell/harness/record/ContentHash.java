package org.stopwell.harness.record;

import java.util.Comparator;
import java.util.List;
import org.stopwell.harness.trial.TrialResult;

/**
 * One hash over the whole content of a report. It does not depend on the order in which trials
 * finished, so interrupted and uninterrupted campaigns have equal hashes.
 */
public final class ContentHash {
  private ContentHash() {}

  /**
   * The hash of a campaign.
   *
   * @param header what it was
   * @param results its trials, in any order
   * @return SHA-256, 64 hexadecimal digits
   */
  public static String of(RunHeader header, List<TrialResult> results) {
    HashChain chain = HashChain.start();
    chain.add("header", Fields.of(header));
    header.conditions().forEach(c -> chain.add("condition", Fields.of(c)));
    header.claims().forEach(c -> chain.add("claim", Fields.of(c)));
    Fields.protocol(header).forEach((key, value) -> chain.add("protocol", List.of(key, value)));
    header.registration().deviations().forEach(d -> chain.add("deviation", Fields.of(d)));
    results.stream()
        .sorted(Comparator.comparingInt(TrialResult::index))
        .forEach(r -> chain.add("trial", Fields.of(r, null)));
    return chain.hex();
  }
}
