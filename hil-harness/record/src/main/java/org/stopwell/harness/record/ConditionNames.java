package org.stopwell.harness.record;

import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.stopwell.harness.protocol.BlindKey;
import org.stopwell.harness.protocol.Blinding;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;

/**
 * Which names the conditions of a run go by. A run file from version 4 holds codes, which the key
 * translates; one before holds the levels and the codes, and the reader sees the codes.
 */
public final class ConditionNames {
  /** Of a run in which nothing is blinded. */
  private static final ConditionNames PLAIN = new ConditionNames(name -> name, false, false);

  private final UnaryOperator<String> name;
  private final boolean coded;
  private final boolean opened;

  private ConditionNames(UnaryOperator<String> name, boolean coded, boolean opened) {
    this.name = name;
    this.coded = coded;
    this.opened = opened;
  }

  /**
   * The names that a reader of a run sees.
   *
   * @param header the header as the run file holds it
   * @param directory the run directory, which says whether the run was unblinded
   * @return codes until then
   * @throws RunFileException when it was unblinded with something else than its key
   */
  public static ConditionNames shown(RunHeader header, Path directory) throws RunFileException {
    if (header.protocol().blinding().isEmpty() || !Unblinding.isDone(directory)) {
      return blinded(header);
    }
    Blinding blinding = header.protocol().blinding().get();
    Map<String, String> names =
        blinding.commitment().isEmpty()
            ? Map.of()
            : Unblinding.key(directory, blinding.commitment()).levels();
    return new ConditionNames(condition -> blinding.renamed(condition, names), false, true);
  }

  /**
   * The names that a reader of a run sees before it is unblinded.
   *
   * @param header the header as the run file holds it
   * @return codes
   */
  public static ConditionNames blinded(RunHeader header) {
    return header
        .protocol()
        .blinding()
        .map(b -> new ConditionNames(c -> b.renamed(c, b.codes()), true, false))
        .orElse(PLAIN);
  }

  /**
   * From the names of the plan to those of the run file.
   *
   * @param header the header, of the plan or of the run file
   * @param key the key
   * @return codes
   */
  public static ConditionNames coding(RunHeader header, BlindKey key) {
    Blinding blinding = header.protocol().blinding().orElseThrow();
    Map<String, String> codes = key.codes();
    return new ConditionNames(c -> blinding.renamed(c, codes), false, false);
  }

  /**
   * From the names of the run file to those of the plan.
   *
   * @param header the header of the run file
   * @param key the key
   * @return levels
   */
  public static ConditionNames decoding(RunHeader header, BlindKey key) {
    Blinding blinding = header.protocol().blinding().orElseThrow();
    return new ConditionNames(c -> blinding.renamed(c, key.levels()), false, false);
  }

  /** What conditions are listed by: under codes, the order of the plan would name the levels. */
  private static String level(RunHeader header, String condition) {
    String[] levels = condition.split("/", -1);
    int place = header.protocol().blinding().orElseThrow().place();
    return place < levels.length ? levels[place] : "";
  }

  /**
   * Whether a reader sees codes.
   *
   * @return true for a blinded run that is not unblinded
   */
  public boolean isCoded() {
    return coded;
  }

  /**
   * Translates a header.
   *
   * @param header the header
   * @return with other names of conditions
   */
  public RunHeader of(RunHeader header) {
    if (this == PLAIN) {
      return header;
    }
    List<Condition> conditions =
        header.conditions().stream()
            .map(
                c ->
                    new Condition(
                        name.apply(c.name()),
                        c.expectation(),
                        c.plannedTrials(),
                        c.standoffMicrons(),
                        c.toleranceMicrons()))
            .sorted(Comparator.comparing(c -> level(header, c.name())))
            .toList();
    List<Claim> claims =
        header.claims().stream()
            .map(
                c ->
                    c.over(
                        c.conditions().stream()
                            .map(name)
                            .sorted(Comparator.comparing(n -> level(header, n)))
                            .toList()))
            .toList();
    Protocol protocol =
        opened
            ? header.protocol().with(header.protocol().blinding().orElseThrow().opened())
            : header.protocol();
    return header.with(conditions, claims, protocol);
  }

  /**
   * Translates the name of a condition.
   *
   * @param condition the name
   * @return the other name
   */
  public String of(String condition) {
    return name.apply(condition);
  }

  /**
   * Translates a trial.
   *
   * @param trial the trial
   * @return with another name of its condition; while blinded without what differs by design
   */
  public TrialResult of(TrialResult trial) {
    TrialResult named = this == PLAIN ? trial : trial.with(name.apply(trial.condition()));
    return coded ? named.blinded() : named;
  }

  /**
   * Translates trials.
   *
   * @param trials the trials
   * @return in the same order
   */
  public List<TrialResult> of(List<TrialResult> trials) {
    return trials.stream().map(this::of).toList();
  }
}
