package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.calibration.PopulationSweep;
import org.stopwell.rig.calibration.ReferenceSweep;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** The curve from signal to distance. */
@Command(
    name = "curve",
    description = {
      "Sweeps a file through a canal of the virtual bench, without noise, and prints the"
          + " curve from signal to distance as the calibration section of a settings file.",
      "With --population, sweeps many drawn half-wet canals and prints their median curve with"
          + " the bound that holds 95 of 100 canals at each point.",
      "On a physical bench, measure these points: the curve of the model does not calibrate"
          + " hardware."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell rig curve file.size=25 file.taper=0.04 fluid.level_mm=8",
      "  stopwell rig curve --population 200 file.size=15 file.taper=0.04"
          + " front_end.frequency_1_hz=630 front_end.frequency_2_hz=6300",
      "  stopwell rig curve --policy resistance canal.kind=resistors"
    },
    mixinStandardHelpOptions = true)
final class RigCurveCommand extends StopwellCommand {
  /** The feature that the controller takes from the impedance. */
  enum Policy {
    RATIO,
    RESISTANCE
  }

  @Mixin SceneValues values = new SceneValues();

  @Option(
      names = "--policy",
      paramLabel = "POLICY",
      description = "ratio or resistance, as sense.policy. Default: ${DEFAULT-VALUE}.",
      defaultValue = "ratio")
  Policy policy = Policy.RATIO;

  @Option(
      names = "--deepest-mm",
      paramLabel = "MM",
      description = "Deepest point, mm, negative past the foramen. Default: ${DEFAULT-VALUE}.",
      defaultValue = "-1")
  double deepestMm = -1;

  @Option(
      names = "--shallowest-mm",
      paramLabel = "MM",
      description = "Shallowest point, mm. Default: ${DEFAULT-VALUE}.",
      defaultValue = "6")
  double shallowestMm = 6;

  @Option(
      names = "--step-mm",
      paramLabel = "MM",
      description = "Distance between points, mm. Default: ${DEFAULT-VALUE}.",
      defaultValue = "0.25")
  double stepMm = 0.25;

  @Option(
      names = "--population",
      paramLabel = "N",
      description = "Number of canals to draw; 0: the one canal of the scene. Default: 0.",
      defaultValue = "0")
  int population;

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of the drawn canals. Default: ${DEFAULT-VALUE}.",
      defaultValue = "1")
  long seed = 1;

  @Override
  public Integer call() throws UsageException {
    PrintWriter out = out();
    if (!(deepestMm >= -2 && deepestMm < shallowestMm && shallowestMm <= 30)) {
      throw new UsageException(
          "--deepest-mm "
              + deepestMm
              + " and --shallowest-mm "
              + shallowestMm
              + " must rise from -2 to 30 mm");
    }
    Range.check("--step-mm", stepMm, 0.01, 5, "mm");
    boolean ratio = policy == Policy.RATIO;
    Range.check("--population", population, 0, 10_000, "canals");
    if (population > 0) {
      if (!ratio) {
        throw new UsageException("--population goes with --policy ratio");
      }
      return ofPopulation(out);
    }
    Calibration curve;
    try {
      curve =
          new ReferenceSweep(
                  values.scene(),
                  ratio ? ReferenceSweep.Feature.RATIO : ReferenceSweep.Feature.RESISTANCE)
              .curve(microns(deepestMm), microns(shallowestMm), microns(stepMm));
    } catch (IllegalArgumentException e) {
      throw new UsageException("no curve: " + e.getMessage());
    }
    out.println("# Simulated: reference sweep of the virtual bench, no noise.");
    if (!values.values.isEmpty()) {
      out.println("# " + String.join(" ", values.values));
    }
    out.println("calibration:");
    for (Calibration.Point p : curve.points()) {
      out.println(
          ratio
              ? "  - {ratio: "
                  + decimal(p.feature(), 6)
                  + ", low_ohm: "
                  + ohms(p.lowMilliOhms())
                  + ", remaining_mm: "
                  + decimal(p.remainingMicrons(), 3)
                  + "}"
              : "  - {resistance_ohm: "
                  + decimal(p.feature(), 3)
                  + ", remaining_mm: "
                  + decimal(p.remainingMicrons(), 3)
                  + "}");
    }
    return 0;
  }

  private int ofPopulation(PrintWriter out) throws UsageException {
    int deepest = microns(deepestMm);
    int shallowest = microns(shallowestMm);
    try {
      PopulationSweep sweep =
          new PopulationSweep(seed, population, values.written(), deepest, shallowest);
      List<PopulationSweep.Point> curve = sweep.curve(deepest, shallowest, microns(stepMm));
      out.println(
          "# Simulated: median of "
              + population
              + " half-wet canals of the population, seed "
              + seed
              + ", no noise.");
      if (!values.values.isEmpty()) {
        out.println("# " + String.join(" ", values.values));
      }
      out.println("calibration:");
      for (PopulationSweep.Point p : curve) {
        out.println(
            "  - {ratio: "
                + decimal(p.ratio(), 6)
                + ", low_ohm: "
                + ohms(p.lowMilliOhms())
                + ", remaining_mm: "
                + decimal(p.remainingMicrons(), 3)
                + (p.boundMicrons() == 0 ? "" : ", bound_mm: " + decimal(p.boundMicrons(), 3))
                + "}");
      }
      return 0;
    } catch (SettingsException e) {
      throw SceneValues.mistakes(e);
    } catch (IllegalArgumentException e) {
      throw new UsageException("no curve: " + e.getMessage());
    }
  }

  private static int microns(double mm) {
    return (int) Math.round(mm * 1e3);
  }

  private static String ohms(long milliOhms) {
    return BigDecimal.valueOf(milliOhms, 3).setScale(0, RoundingMode.HALF_EVEN).toPlainString();
  }

  private static String decimal(long base, int decimals) {
    BigDecimal value = BigDecimal.valueOf(base, decimals).stripTrailingZeros();
    return value.signum() == 0 ? "0" : value.toPlainString();
  }
}
