package org.stopwell.harness.cli;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.stopwell.harness.plan.ExtractedTooth;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.trace.CsvTraceText;
import org.stopwell.harness.trace.TraceDirectory;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * The approaches of a run in extracted teeth, as the directory that {@code learn} reads.
 *
 * @param files text by file name, the manifest too; empty when there is no approach
 * @param left a sentence for each trial that is left out
 */
record ToothTraces(Map<String, String> files, List<String> left) {
  /** An approach that learn can use comes nearer than this to the foramen, µm: as learn checks. */
  private static final int NEAR_MICRONS = 1_000;

  /** The approaches of a run. */
  static ToothTraces of(RunFile run, Plan plan) throws RunFileException {
    Map<Integer, TrialResult> results = new TreeMap<>();
    run.results().forEach(r -> results.put(r.index(), r));
    StringBuilder manifest = new StringBuilder("file,tooth,fluid,length_u_mm,simulated\n");
    Map<String, String> files = new LinkedHashMap<>();
    List<String> left = new ArrayList<>();
    for (TrialResult trial : results.values()) {
      Optional<ExtractedTooth> tooth = plan.tooth(trial.index());
      Optional<byte[]> trace = run.readableTrace(trial.index());
      if (tooth.isEmpty() || trace.isEmpty()) {
        continue;
      }
      CsvTraceText text = CsvTraceText.of(trace.get(), tooth.get().lengthMicrons());
      if (trial.verdict() == Verdict.RIG_FAULT || !(text.leastMicrons() < NEAR_MICRONS)) {
        left.add(
            "trial "
                + (trial.index() + 1)
                + " in tooth "
                + tooth.get().name()
                + " is left out: "
                + (trial.verdict() == Verdict.RIG_FAULT
                    ? "rig fault " + trial.code()
                    : "it comes no nearer to the foramen than 1 mm"));
        continue;
      }
      String name =
          String.format(Locale.ROOT, "%s_%05d.csv", plain(tooth.get().name()), trial.index() + 1);
      files.put(name, text.text());
      manifest
          .append(name)
          .append(',')
          .append(tooth.get().name())
          .append(',')
          .append(fluid(trial.condition()))
          .append(',')
          .append(BigDecimal.valueOf(tooth.get().standardMicrons(), 3).toPlainString())
          .append(',')
          .append(run.header().bench().simulated() ? '1' : '0')
          .append('\n');
    }
    if (!files.isEmpty()) {
      files.put(TraceDirectory.MANIFEST, manifest.toString());
    }
    return new ToothTraces(files, left);
  }

  /** The condition stands for the fluid; a plan without factors has one condition only. */
  private static String fluid(String condition) {
    return condition.equals("all") ? "as planned" : condition.replace('/', ' ');
  }

  /** A name that every file system takes. */
  private static String plain(String name) {
    return name.replaceAll("[^\\p{L}\\p{N}.+-]", "-");
  }
}
