package org.stopwell.harness.record;

import java.math.BigDecimal;
import java.util.regex.Pattern;

/** Keys of earlier versions in a recorded plan and its settings: reports of old runs need them. */
final class OlderWords {
  private static final Pattern TAPER =
      Pattern.compile("\\btaper_percent(\\s*:\\s*)([0-9]+(?:\\.[0-9]+)?)");
  private static final Pattern LATERAL_CANAL = Pattern.compile("\\bside_canal_(mm|ohm)\\b");

  private OlderWords() {}

  /** The same text with the present keys, line by line; a taper of 4 % becomes 0.04. */
  static String renewed(String yaml) {
    String lateral = LATERAL_CANAL.matcher(yaml).replaceAll("lateral_canal_$1");
    return TAPER
        .matcher(lateral)
        .replaceAll(
            m ->
                "taper" + m.group(1) + new BigDecimal(m.group(2)).movePointLeft(2).toPlainString());
  }
}
