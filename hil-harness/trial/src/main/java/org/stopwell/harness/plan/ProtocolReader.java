package org.stopwell.harness.plan;

import java.util.EnumMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.protocol.BlindKey;
import org.stopwell.harness.protocol.Blinding;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Endpoint;
import org.stopwell.harness.protocol.Order;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.protocol.SizePlan;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.stats.StatisticsChoice;

/** Reads the protocol of a plan and checks its parts against each other. */
final class ProtocolReader {
  private final Yaml.Mapping top;
  private final boolean teeth;
  private final Mistakes mistakes;

  /** A reader of the protocol of a plan, on extracted teeth or not. */
  ProtocolReader(Yaml.Mapping top, boolean teeth, Mistakes mistakes) {
    this.top = top;
    this.teeth = teeth;
    this.mistakes = mistakes;
  }

  Protocol read(
      ParameterValues head,
      List<DraftCondition> drafts,
      List<Claim> claims,
      StatisticsChoice analysis) {
    Order order = Order.ofKey(head.choice(PlanTables.ORDER));
    int trials = head.getInt(PlanTables.TRIALS);
    int canalTrials = head.getInt(PlanTables.CANAL_TRIALS);
    if (trials % order.period(drafts.size()) != 0) {
      mistakes.add(
          line("order"),
          "order",
          "a latin square of "
              + drafts.size()
              + " conditions is balanced after "
              + order.period(drafts.size())
              + " trials of each; trials: "
              + trials
              + " is no multiple of that");
    }
    Optional<Endpoint> primary = Optional.empty();
    List<Endpoint> secondary = List.of();
    if (has(ProtocolTables.ENDPOINTS)) {
      ParameterValues v = values(ProtocolTables.ENDPOINTS, Set.of(ProtocolTables.SECONDARY));
      primary = Optional.of(Endpoint.ofKey(v.choice(ProtocolTables.PRIMARY)));
      secondary = secondary(primary.get());
    }
    StoppingRule stopping = stopping(claims, primary);
    boolean grouped = !analysis.groups().isEmpty();
    if (canalTrials > 1 && grouped) {
      mistakes.add(
          line("canal_trials"),
          "canal_trials",
          canalTrials + ", must be 1 where analysis.groups names what trials share");
    }
    boolean drawn = head.choice(PlanTables.DRAW).equals(PlanTables.POPULATION);
    if (drawn && grouped) {
      mistakes.add(
          line("draw"),
          "draw",
          "population, must be none where analysis.groups names what trials share");
    }
    if (teeth && grouped) {
      mistakes.add(
          line(TeethReader.KEY),
          TeethReader.KEY,
          "trials share their tooth; remove analysis.groups");
    }
    boolean commonCanals = (drawn || teeth) && drafts.size() > 1;
    if (canalTrials > 1 || grouped || commonCanals) {
      shared(stopping);
    }
    ParameterValues exclude = values(ProtocolTables.EXCLUDE, Set.of());
    return new Protocol(
        order,
        canalTrials,
        commonCanals,
        primary,
        secondary,
        blinding(drafts),
        sentinels(drafts),
        exclude.getInt(ProtocolTables.AFTER_RIG_FAULT),
        exclude.get(ProtocolTables.LATE_STEP),
        stopping,
        sizes(drafts, claims, trials, canalTrials, commonCanals, stopping, analysis),
        whys(claims));
  }

  /** What a plan of stops measured elsewhere fixes: endpoints, a blinded device, and reasons. */
  Protocol ofStops(List<Claim> claims) {
    Optional<Endpoint> primary = Optional.empty();
    List<Endpoint> secondary = List.of();
    if (has(ProtocolTables.ENDPOINTS)) {
      ParameterValues v = values(ProtocolTables.ENDPOINTS, Set.of(ProtocolTables.SECONDARY));
      primary = Optional.of(Endpoint.ofKey(v.choice(ProtocolTables.PRIMARY)));
      secondary = secondary(primary.get());
    }
    String factor = FreeText.optional(top, ProtocolTables.BLIND, mistakes);
    String device = StopPlan.FACTORS.get(0);
    if (!factor.isEmpty() && !factor.equals(device)) {
      mistakes.add(
          line(ProtocolTables.BLIND), ProtocolTables.BLIND, factor + ", must be " + device);
    }
    Protocol none = Protocol.NONE;
    return new Protocol(
        none.order(),
        none.canalTrials(),
        none.commonCanals(),
        primary,
        secondary,
        factor.isEmpty() ? Optional.empty() : Optional.of(new Blinding(device, 0)),
        none.sentinels(),
        none.afterRigFault(),
        none.lateStepNs(),
        none.stopping(),
        none.sizes(),
        whys(claims));
  }

  private List<Endpoint> secondary(Endpoint primary) {
    Set<Endpoint> read = new LinkedHashSet<>();
    Yaml.Entry entry = group(ProtocolTables.ENDPOINTS).entries().get(ProtocolTables.SECONDARY);
    String path = ProtocolTables.ENDPOINTS + "." + ProtocolTables.SECONDARY;
    if (entry == null) {
      return List.of();
    }
    if (!(entry.value() instanceof Yaml.Items items)) {
      mistakes.add(entry.line(), path, entry.value().notA("a list of endpoints"));
      return List.of();
    }
    for (Yaml item : items.items()) {
      String word = item.word();
      if (!Endpoint.keys().contains(word)) {
        mistakes.add(item.line(), path, word + " is none of " + String.join(", ", Endpoint.keys()));
      } else if (Endpoint.ofKey(word) == primary) {
        mistakes.add(item.line(), path, word + " is the primary one already");
      } else if (!read.add(Endpoint.ofKey(word))) {
        mistakes.add(item.line(), path, word + " is given twice");
      }
    }
    return List.copyOf(read);
  }

  private StoppingRule stopping(List<Claim> claims, Optional<Endpoint> primary) {
    if (!has(ProtocolTables.STOP)) {
      return StoppingRule.FIXED;
    }
    int line = line(ProtocolTables.STOP);
    ParameterValues v = values(ProtocolTables.STOP, Set.of());
    StoppingRule.Kind kind = StoppingRule.Kind.ofKey(v.choice(ProtocolTables.RULE));
    if (kind == StoppingRule.Kind.FIXED) {
      return StoppingRule.FIXED;
    }
    Claim.Endpoint endpoint = Claim.Endpoint.ofKey(v.choice(ProtocolTables.CLAIM));
    double good = v.get(ProtocolTables.GOOD_SHARE) / 1e6;
    Optional<Claim> claim = claims.stream().filter(c -> c.endpoint() == endpoint).findFirst();
    if (!group("claims").entries().containsKey(endpoint.key())) {
      mistakes.add(line, "stop.claim", "claims." + endpoint.key() + " is not among the claims");
    }
    if (claim.isEmpty()) {
      return StoppingRule.FIXED;
    }
    if (primary.isPresent() && Endpoint.of(endpoint) != primary.get()) {
      mistakes.add(
          line,
          "stop.claim",
          endpoint.key()
              + " is not about the primary endpoint "
              + primary.get().key()
              + ": only the primary one may end a campaign");
    }
    if (claim.get().each()) {
      mistakes.add(
          line,
          "stop.claim",
          endpoint.key()
              + " is claimed for each condition; only a claim on all together may end a"
              + " campaign");
    }
    boolean share = endpoint != Claim.Endpoint.BIAS;
    if (!share && kind != StoppingRule.Kind.GROUP_SEQUENTIAL) {
      mistakes.add(line, "stop.rule", kind.key() + " is for a share; bias takes group-sequential");
    }
    if (kind == StoppingRule.Kind.SPRT && share) {
      double claimed = claim.get().share();
      boolean better = endpoint.isAtMost() ? good < claimed : good > claimed;
      if (!better || !(claimed > 0 && claimed < 1)) {
        mistakes.add(
            line,
            "stop.good_share",
            String.format(
                Locale.ROOT, "%s must be better than the claimed share %s", good, claimed));
      }
    }
    return new StoppingRule(
        kind,
        endpoint,
        good,
        v.get(ProtocolTables.POWER) / 1e4,
        v.getInt(ProtocolTables.LOOKS),
        v.get(ProtocolTables.SHAPE) / 1e2);
  }

  /** Mistakes of trials that share a canal. */
  private void shared(StoppingRule stopping) {
    if (stopping.kind() == StoppingRule.Kind.SPRT || stopping.kind() == StoppingRule.Kind.ANYTIME) {
      mistakes.add(
          line(ProtocolTables.STOP),
          "stop.rule",
          stopping.kind().key()
              + " assumes independent trials; with canal_trials above 1, draw: population or"
              + " analysis.groups use group-sequential");
    }
    if (has(ProtocolTables.SIZE)
        && !(values(ProtocolTables.SIZE, Set.of()).get(ProtocolTables.ICC) > 0)) {
      mistakes.add(
          line(ProtocolTables.SIZE),
          "size.icc",
          "must be above 0 where trials share a canal: no two trials in one canal are independent");
    }
  }

  private Optional<Blinding> blinding(List<DraftCondition> drafts) {
    String factor = FreeText.optional(top, ProtocolTables.BLIND, mistakes);
    if (factor.isEmpty()) {
      return Optional.empty();
    }
    List<String> factors = group("factors").entries().keySet().stream().toList();
    int place = factors.indexOf(factor);
    if (place < 0) {
      mistakes.add(
          line(ProtocolTables.BLIND),
          ProtocolTables.BLIND,
          factor + " is not a factor" + Hint.of(factor, new java.util.TreeSet<>(factors)));
      return Optional.empty();
    }
    List<String> levels =
        drafts.stream().map(c -> c.chosen().getOrDefault(factor, "")).distinct().toList();
    if (levels.size() > BlindKey.MOST_CODES) {
      mistakes.add(
          line(ProtocolTables.BLIND),
          ProtocolTables.BLIND,
          levels.size() + " levels, at most " + BlindKey.MOST_CODES + " can be coded");
      return Optional.empty();
    }
    return Optional.of(new Blinding(factor, place));
  }

  private Optional<SentinelRule> sentinels(List<DraftCondition> drafts) {
    if (!has(ProtocolTables.SENTINELS)) {
      return Optional.empty();
    }
    ParameterValues v = values(ProtocolTables.SENTINELS, Set.of(ProtocolTables.SCENE));
    if (drafts.stream().anyMatch(c -> c.name().equals(SentinelRule.CONDITION))) {
      mistakes.add(
          line("factors"), "factors", SentinelRule.CONDITION + " is the name of the sentinels");
    }
    return Optional.of(
        new SentinelRule(
            Math.max(1, v.getInt(ProtocolTables.EVERY)),
            v.getInt(ProtocolTables.EXPECTED),
            v.getInt(ProtocolTables.DEVIATION),
            v.choice(ProtocolTables.ON_BAD).equals(ProtocolTables.STOP_ON_BAD),
            v.getInt(ProtocolTables.LEARNED_FROM),
            0,
            0));
  }

  /** A plan with a size calculation must have enough trials for it. */
  private Map<Claim.Endpoint, Long> sizes(
      List<DraftCondition> drafts,
      List<Claim> claims,
      int trials,
      int canalTrials,
      boolean commonCanals,
      StoppingRule stopping,
      StatisticsChoice analysis) {
    Map<Claim.Endpoint, Long> sizes = new EnumMap<>(Claim.Endpoint.class);
    if (!has(ProtocolTables.SIZE) || !mistakes.isEmpty()) {
      return sizes;
    }
    ParameterValues v = values(ProtocolTables.SIZE, Set.of());
    SizePlan plan =
        new SizePlan(
            v.get(ProtocolTables.TRUE_SHARE) / 1e6,
            v.getInt(ProtocolTables.SD),
            v.getInt(ProtocolTables.BIAS),
            v.get(ProtocolTables.SIZE_POWER) / 1e4,
            v.get(ProtocolTables.ICC) / 1e3,
            v.get(ProtocolTables.LOST) / 1e3);
    for (Claim claim : claims) {
      int spoken = (int) drafts.stream().filter(c -> claim.endpoint().isAbout(c.expects())).count();
      int together = claim.each() ? 1 : Math.max(1, spoken);
      long planned = (long) trials * (spoken == 0 ? 0 : together);
      long levels =
          claim.each()
              ? Math.min(1, analysis.groups().size())
              : analysis.groups().stream()
                  .limit(1)
                  .flatMap(
                      group -> drafts.stream().map(d -> analysis.level(d.name(), group)).distinct())
                  .count();
      // A shared canal is shared by all conditions, a level by all its own.
      int perCanal =
          levels > 0
              ? (int) Math.max(1, planned / levels)
              : canalTrials > 1 || commonCanals ? canalTrials * together : 1;
      OptionalLong needed = plan.needed(claim.inEachOf(spoken), perCanal, stopping);
      needed.ifPresent(n -> sizes.put(claim.endpoint(), n));
      if (!(needed.isPresent() && planned >= needed.getAsLong())) {
        mistakes.add(
            line(ProtocolTables.SIZE),
            "claims." + claim.endpoint().key(),
            planned
                + (claim.each() ? " trials in each condition" : " trials")
                + " are planned for it, "
                + (needed.isPresent()
                    ? needed.getAsLong() + " are needed"
                    : "no number that can be planned is sufficient")
                + " by what size says");
      }
    }
    return sizes;
  }

  private Map<Claim.Endpoint, String> whys(List<Claim> claims) {
    Map<Claim.Endpoint, String> whys = new EnumMap<>(Claim.Endpoint.class);
    for (Claim claim : claims) {
      Yaml.Entry entry = group("claims").entries().get(claim.endpoint().key());
      if (entry != null && entry.value() instanceof Yaml.Mapping inside) {
        String why = FreeText.optional(inside, ProtocolTables.WHY, mistakes);
        if (!why.isEmpty()) {
          whys.put(claim.endpoint(), why);
        }
      }
    }
    return whys;
  }

  private boolean has(String key) {
    return top.entries().containsKey(key);
  }

  private ParameterValues values(String key, Set<String> others) {
    return Sections.resolve(
        group(key),
        key,
        java.util.Objects.requireNonNull(ProtocolTables.TABLES.get(key)),
        others,
        mistakes);
  }

  private Yaml.Mapping group(String key) {
    return Groups.of(top, key, mistakes);
  }

  private int line(String key) {
    return Groups.line(top, key);
  }
}
