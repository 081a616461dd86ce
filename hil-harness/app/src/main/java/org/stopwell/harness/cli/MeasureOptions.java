package org.stopwell.harness.cli;

import java.math.BigDecimal;
import java.math.RoundingMode;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.length.DepthBy;
import org.stopwell.harness.length.LengthMethod;
import org.stopwell.harness.length.MovedBy;
import org.stopwell.harness.length.Radiograph;
import org.stopwell.harness.length.ReferencePoint;
import picocli.CommandLine.Option;

/** How a length is measured. */
final class MeasureOptions {
  @Option(
      names = "--passes",
      paramLabel = "N",
      description = "Number of length readings. Default: ${DEFAULT-VALUE}.",
      defaultValue = "5")
  int passes = 5;

  @Option(
      names = "--range-mm",
      paramLabel = "MM",
      description =
          "Range within which length readings agree, mm. Default: 0.1 with a depth axis, 0.5 with"
              + " a rubber stop.")
  @Nullable Double rangeMm;

  @Option(
      names = "--rubber-stop",
      description =
          "A person reads the depth from a rubber stop against the reference point, not a depth"
              + " axis. On a physical bench the command stops the motor and asks for it.")
  boolean rubberStop;

  @Option(
      names = "--depth-error-mm",
      paramLabel = "MM",
      description =
          "Largest error of the depth that all readings share, either way, mm; part of the"
              + " uncertainty. Default: 0 with a depth axis, 0.25 with a rubber stop (from memory).")
  @Nullable Double depthErrorMm;

  @Option(
      names = "--hand-file",
      description =
          "A hand file without a motor: the controller shows its reading and orders nothing to"
              + " turn. A length reading is taken when the reading rests at the standoff.")
  boolean handFile;

  @Option(
      names = "--patency",
      description =
          "Leads the file past the foramen on purpose after the last reading, once, and back: by"
              + " the first condition of the plan that expects patency.")
  boolean patency;

  /** Refuses numbers outside their limits. */
  void check() throws UsageException {
    Range.check("--passes", passes, 1, 1_000);
    Range.check("--range-mm", rangeMm, 0, 10, "mm");
    Range.check("--depth-error-mm", depthErrorMm, 0, 10, "mm");
  }

  /** What reads the depth. */
  DepthBy depthBy() {
    return rubberStop ? DepthBy.RUBBER_STOP : DepthBy.AXIS;
  }

  /** How the length of a canal is measured with these options. */
  LengthMethod method(String canal, ReferencePoint reference) {
    DepthBy by = depthBy();
    return new LengthMethod(
        canal,
        reference,
        by,
        depthErrorMm == null ? by.errorMicrons() : microns(depthErrorMm),
        rangeMm == null ? by.rangeMicrons() : microns(rangeMm),
        handFile ? MovedBy.HAND_FILE : MovedBy.MOTOR);
  }

  /** What a measured distance to the radiographic apex says about a length. */
  static Radiograph radiograph(double tipToApexMm, double limitMm, int standoffMicrons)
      throws UsageException {
    Range.check("--tip-to-apex-mm", tipToApexMm, -10, 30, "mm");
    Range.check("--limit-mm", limitMm, 0, 10, "mm");
    return Radiograph.measured(microns(tipToApexMm), microns(limitMm), standoffMicrons);
  }

  /** A distance in µm. */
  static int microns(double mm) {
    return BigDecimal.valueOf(mm)
        .movePointRight(3)
        .setScale(0, RoundingMode.HALF_EVEN)
        .intValueExact();
  }
}
