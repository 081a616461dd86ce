package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.input.InputFile;
import org.stopwell.harness.standing.GaugeTable;
import org.stopwell.harness.stats.AverageRange;
import org.stopwell.harness.stats.GaugeStudy;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Computes a gauge study from its readings. */
@Command(
    name = "gauge",
    description = {
      "Computes a gauge study from a table of readings: part,appraiser,reading_UNIT, one"
          + " reading per line. The table comes from rig prove, which stores it beside the proof,"
          + " or from your own study. Every appraiser measures every part equally often.",
      "",
      "Two methods (AIAG, Measurement Systems Analysis, 4th edition): anova shows whether"
          + " appraisers differ from part to part; average-range is the manual method for 2 or 3"
          + " appraisers, 2 or 3 readings and up to 10 parts."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell rig gauge benches/C-0001.gauge.2026-03-02T101500Z.csv --width 1000",
      "  stopwell rig gauge study.csv --method average-range"
    },
    mixinStandardHelpOptions = true)
final class GaugeCommand extends StopwellCommand {
  /** Largest table, bytes; assumed: 100,000 readings. */
  private static final long MOST_BYTES = 16 << 20;

  enum Method {
    ANOVA("anova"),
    AVERAGE_RANGE("average-range");

    private final String word;

    Method(String word) {
      this.word = word;
    }

    @Override
    public String toString() {
      return word;
    }
  }

  @Parameters(paramLabel = "FILE", description = "The readings, CSV.")
  Path file = Path.of("");

  @Option(
      names = "--method",
      paramLabel = "METHOD",
      description = "anova (the default) or average-range.",
      defaultValue = "anova")
  Method method = Method.ANOVA;

  @Option(
      names = "--width",
      paramLabel = "W",
      description = "Full width of the tolerance, in the unit of the readings.")
  @Nullable Double width;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    Double full = width;
    if (full != null && !(full > 0 && full <= 1e9)) {
      throw new UsageException("--width " + full + " is outside 0 to 1e9");
    }
    GaugeTable table = table();
    String unit = table.unit().equals("um") ? "µm" : table.unit();
    out.println(
        String.format(
            Locale.ROOT,
            "%d parts, %d appraisers (%s), %d readings of each pair",
            table.parts().size(),
            table.appraisers().size(),
            String.join(", ", table.appraisers()),
            table.thousandths().get(0).get(0).size()));
    double gauge;
    if (method == Method.ANOVA) {
      GaugeStudy s = table.variance();
      line(out, "repeatability", root(s.equipmentVariance()), unit);
      line(out, "appraisers", root(s.appraiserVariance()), unit);
      line(out, "appraisers by part", root(s.interactionVariance()), unit);
      gauge = root(s.gaugeVariance());
      parts(out, gauge, root(s.partVariance()), s.distinctCategories(), unit);
      if (s.isPooled()) {
        out.println(
            "The interaction of appraisers and parts is not significant (p > 0.25): pooled with"
                + " repeatability.");
      }
    } else {
      AverageRange s =
          table
              .averageRange()
              .orElseThrow(
                  () ->
                      new UsageException(
                          file
                              + ": average-range has constants for 2 or 3 appraisers, 2 or 3"
                              + " readings and 2 to 10 parts; use --method anova"));
      line(out, "repeatability", s.equipment(), unit);
      line(out, "appraisers", s.appraiser(), unit);
      gauge = s.gauge();
      parts(out, gauge, s.part(), s.distinctCategories(), unit);
    }
    if (full != null) {
      out.println(
          String.format(
              Locale.ROOT,
              "Six σ of the gauge are %.1f %% of the tolerance width; up to 10 %% is good,"
                  + " above 30 %% is not usable.",
              600 * gauge / full));
    }
    return 0;
  }

  private GaugeTable table() throws Exception {
    try {
      Optional<String> fault = InputFile.fault(file, MOST_BYTES);
      if (fault.isPresent()) {
        throw new UsageException(file + ": " + fault.get());
      }
      return GaugeTable.read(Files.readString(file, StandardCharsets.UTF_8));
    } catch (NoSuchFileException e) {
      throw new UsageException(file + ": there is no such file");
    } catch (IOException e) {
      throw new UsageException(file + ": " + InputFile.reason(e));
    } catch (IllegalArgumentException e) {
      throw new UsageException(file + ": " + e.getMessage());
    }
  }

  private static double root(double squareThousandths) {
    return Math.sqrt(squareThousandths) / 1e3;
  }

  private static void parts(
      PrintWriter out, double gauge, double part, double categories, String unit) {
    line(out, "gauge together", gauge, unit);
    line(out, "parts", part, unit);
    line(out, "everything", Math.hypot(gauge, part), unit);
    out.println(
        String.format(
            Locale.ROOT,
            "The gauge causes %.1f %% of the total deviation and separates %.0f groups of"
                + " parts.",
            100 * gauge / Math.hypot(gauge, part),
            Math.floor(Math.max(1, categories))));
  }

  private static void line(PrintWriter out, String what, double sigma, String unit) {
    out.println(String.format(Locale.ROOT, "σ %-20s %12.4f %s", what, sigma, unit).stripTrailing());
  }
}
