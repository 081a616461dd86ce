package org.stopwell.harness.tune;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.plan.TunedSettings;

/** What a tuning leaves in its output directory beside the page: settings and tables. */
public final class TuneFiles {
  /** Name of the settings file. */
  public static final String SETTINGS = "tuned.yaml";

  private final TuneResult result;
  private final Path directory;

  /**
   * The files of a tuning.
   *
   * @param result the answer
   * @param directory output directory, which exists
   */
  public TuneFiles(TuneResult result, Path directory) {
    this.result = result;
    this.directory = directory;
  }

  /**
   * Writes the tuned settings as a complete settings file.
   *
   * @return the file
   * @throws IOException when it cannot be written
   * @throws PlanException when the settings would be wrong
   */
  public Path settings() throws IOException, PlanException {
    Space space = result.space();
    List<String> comment = new ArrayList<>();
    comment.add(
        "Tuned, simulated. "
            + (result.complete()
                ? "Judged on "
                    + space.target().orElseThrow().freshCanals()
                    + " fresh canals: "
                    + TuneFindings.verdict(result.verdict())
                    + "."
                : "Interrupted: not judged."));
    comment.add(
        "Space "
            + space.head().name()
            + ", condition "
            + space.condition().name()
            + " of plan "
            + space.plan().head().name()
            + ", seed "
            + space.head().seed()
            + ", build "
            + result.build()
            + ".");
    Map<Factor, String> values = new LinkedHashMap<>();
    List<Factor> tuned = space.factors().stream().filter(Factor::isOfSettings).toList();
    for (int i = 0; i < tuned.size(); i++) {
      String now = result.chosen().texts().get(i);
      String before = TunedSettings.present(space.condition().settings(), tuned.get(i)).orElse("");
      if (!now.equals(before)) {
        values.put(tuned.get(i), now);
        comment.add(
            "Changed: "
                + tuned.get(i).key().substring("settings.".length())
                + " "
                + before
                + " -> "
                + now);
      }
    }
    Path file = directory.resolve(SETTINGS);
    Files.writeString(
        file,
        new TunedSettings(space.condition().settings(), directory).text(values, comment),
        StandardCharsets.UTF_8);
    return file;
  }

  /**
   * Writes every point tried and every point judged as CSV.
   *
   * @throws IOException when a file cannot be written
   */
  public void tables() throws IOException {
    List<String> points = new ArrayList<>();
    points.add("point,phase,chosen,meets,excess," + columns());
    for (Tried t : result.tried()) {
      points.add(
          t.number()
              + ","
              + t.phase().key()
              + ","
              + (t.number() == result.chosen().number() ? 1 : 0)
              + ","
              + (t.meets() ? 1 : 0)
              + ","
              + number(t.excess())
              + ","
              + row(t.texts(), t.measured()));
    }
    write("points.csv", points);
    List<String> judged = new ArrayList<>();
    judged.add("role," + columns());
    result.judged().forEach(j -> judged.add(j.role().key() + "," + row(j.texts(), j.measured())));
    write("judged.csv", judged);
  }

  private String columns() {
    return String.join(",", result.keys())
        + ",trials,impossible,stopped,over_travel,early_stop,refusal,time_s,stop_error_spread_mm";
  }

  private static String row(List<String> texts, Measured m) {
    return String.join(",", texts)
        + ","
        + m.trials()
        + ","
        + m.impossible()
        + ","
        + m.stopped()
        + ","
        + m.overTravel()
        + ","
        + m.early()
        + ","
        + m.refused()
        + ","
        + number(m.value(TuneTarget.Measure.TIME))
        + ","
        + number(m.value(TuneTarget.Measure.STOP_ERROR_SPREAD));
  }

  private static String number(double value) {
    return Double.isFinite(value) ? Double.toString(value) : "";
  }

  private void write(String name, List<String> lines) throws IOException {
    Files.writeString(directory.resolve(name), String.join("\n", lines) + "\n");
  }
}
