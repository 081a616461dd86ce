package org.stopwell.harness.export;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.stopwell.harness.record.Design;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.TrialColumn;
import org.stopwell.harness.trial.TrialResult;
import tools.jackson.jr.ob.JSON;

/** The description of an exported table, as JSON: its origin and the meaning of each column. */
public final class DataDictionary {
  private DataDictionary() {}

  /**
   * Writes the dictionary.
   *
   * @param header what the campaign was, as its evidence shows it
   * @param trials its trials
   * @param fingerprint newest hash of the run file's chain
   * @return the text of the file
   */
  public static String of(RunHeader header, List<TrialResult> trials, String fingerprint) {
    Map<String, Object> out = new LinkedHashMap<>();
    out.put("plan", header.planName());
    out.put("build", header.build());
    out.put("bench", header.bench().kind());
    out.put("simulated", header.bench().simulated());
    out.put("measured_here", !header.origin().imported());
    out.put("campaign_seed", header.campaignSeed());
    out.put("started_at", header.startedAt());
    out.put("command", header.command());
    out.put("fingerprint", fingerprint);
    out.put("trials", trials.size());
    boolean coded = header.isCoded();
    if (coded) {
      out.put(
          "blinded",
          "Conditions go by codes. Columns that differ between levels by design are left out until"
              + " the run is unblinded.");
    }
    List<Map<String, Object>> told = new ArrayList<>();
    for (Design.Told t : coded ? List.<Design.Told>of() : header.design().told()) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("conditions", t.conditions());
      one.put("stage", t.stage().name().toLowerCase(Locale.ROOT));
      one.put("settings_fingerprint", t.fingerprint());
      one.put("beside_the_settings", t.changes());
      told.add(one);
    }
    if (!told.isEmpty()) {
      out.put("controller_told", told);
    }
    List<Map<String, String>> columns = new ArrayList<>();
    for (TrialColumn column : TrialColumn.exported(coded)) {
      Map<String, String> one = new LinkedHashMap<>();
      one.put("name", column.name());
      one.put("type", column.kind().name().toLowerCase(Locale.ROOT));
      one.put("unit", column.unit());
      one.put("meaning", column.meaning());
      columns.add(one);
    }
    out.put("columns", columns);
    return JSON.std.with(JSON.Feature.PRETTY_PRINT_OUTPUT).asString(out) + "\n";
  }
}
