package org.stopwell.harness.export;

import java.util.List;
import java.util.Locale;
import org.stopwell.harness.record.ContentHash;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.TrialColumn;
import org.stopwell.harness.trial.TrialResult;

/** What an exported table holds, as JSON: where it comes from and what each column means. */
public final class DataDictionary {
  private DataDictionary() {}

  /**
   * Writes the dictionary.
   *
   * @param header what the campaign was
   * @param trials its trials
   * @return the text of the file
   */
  public static String of(RunHeader header, List<TrialResult> trials) {
    StringBuilder out = new StringBuilder(4000).append("{\n");
    member(out, "plan", header.planName());
    member(out, "build", header.build());
    member(out, "bench", header.bench().kind());
    out.append("  \"simulated\": ").append(header.bench().simulated()).append(",\n");
    out.append("  \"campaign_seed\": ").append(header.campaignSeed()).append(",\n");
    member(out, "started_at", header.startedAt());
    member(out, "command", header.command());
    member(out, "content_hash", ContentHash.of(header, trials));
    out.append("  \"trials\": ").append(trials.size()).append(",\n  \"columns\": [");
    String separator = "\n";
    for (TrialColumn column : TrialColumn.ALL) {
      out.append(separator).append("    {\"name\": ");
      string(out, column.name());
      out.append(", \"type\": ");
      string(out, column.kind().name().toLowerCase(Locale.ROOT));
      out.append(", \"unit\": ");
      string(out, column.unit());
      out.append(", \"meaning\": ");
      string(out, column.meaning());
      out.append('}');
      separator = ",\n";
    }
    return out.append("\n  ]\n}\n").toString();
  }

  private static void member(StringBuilder out, String name, String value) {
    out.append("  \"").append(name).append("\": ");
    string(out, value);
    out.append(",\n");
  }

  /** A JSON string (RFC 8259, section 7). */
  private static void string(StringBuilder out, String text) {
    out.append('"');
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c == '"' || c == '\\') {
        out.append('\\').append(c);
      } else if (c < 0x20 || Character.isSurrogate(c)) {
        out.append(String.format(Locale.ROOT, "\\u%04x", (int) c));
      } else {
        out.append(c);
      }
    }
    out.append('"');
  }
}
