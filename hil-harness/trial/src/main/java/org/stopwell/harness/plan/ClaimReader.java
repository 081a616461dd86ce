package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.protocol.Claim;

/** Reads the claims of a plan. */
final class ClaimReader {
  private ClaimReader() {}

  static List<Claim> read(Yaml.Mapping claims, int toleranceMicrons, Mistakes mistakes) {
    List<Claim> read = new ArrayList<>();
    claims
        .entries()
        .forEach(
            (key, entry) -> {
              String path = "claims." + key;
              ParameterTable table = PlanTables.CLAIMS.get(key);
              if (table == null) {
                mistakes.add(
                    entry.line(), path, "unknown key" + Hint.of(key, PlanTables.CLAIMS.keySet()));
              } else if (entry.value() instanceof Yaml.Mapping values) {
                ParameterValues v =
                    Sections.resolve(values, path, table, Set.of(ProtocolTables.WHY), mistakes);
                if (mistakes.isEmpty()) {
                  read.add(claim(Claim.Endpoint.ofKey(key), v, toleranceMicrons));
                }
              } else {
                mistakes.add(entry.line(), path, entry.value().notA("a group of keys"));
              }
            });
    return read;
  }

  private static Claim claim(Claim.Endpoint endpoint, ParameterValues v, int toleranceMicrons) {
    int band =
        switch (endpoint) {
          case WITHIN -> v.isGiven(PlanTables.BAND) ? v.getInt(PlanTables.BAND) : toleranceMicrons;
          case BIAS -> v.getInt(PlanTables.MARGIN);
          case OVER_TRAVEL, OVERRUN, REFUSED -> 0;
        };
    double share = endpoint == Claim.Endpoint.BIAS ? 0 : v.get(PlanTables.SHARE) / 1e6;
    return new Claim(
        endpoint,
        band,
        share,
        v.get(PlanTables.CONFIDENCE) / 1e6,
        List.of(),
        v.choice(PlanTables.EACH).equals(PlanTables.CONDITION),
        endpoint == Claim.Endpoint.BIAS ? v.get(PlanTables.REFUSED_AT_MOST) / 1e6 : 0);
  }
}
