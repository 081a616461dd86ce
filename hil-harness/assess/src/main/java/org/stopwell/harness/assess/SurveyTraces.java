package org.stopwell.harness.assess;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.IntStream;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.virtual.Plant;

/**
 * A survey of simulated teeth as a laboratory would record it: one CSV trace for each tooth and
 * fluid, of a file whose motor nobody stops, from above the orifice to past the foramen, with the
 * true distance; and a manifest that marks them as simulated.
 */
public final class SurveyTraces {
  /** Most teeth of a survey. */
  public static final int MOST_TEETH = 10_000;

  /** Tooth models, as words for {@code canal.kind}. */
  public static final List<String> KINDS = List.of("tooth", "lumped", "meshed", "field");

  /** Fluids of a survey. */
  public static final List<CanalCondition> FLUIDS =
      List.of(CanalCondition.HALF_WET, CanalCondition.BRIMFUL, CanalCondition.FLOODED);

  /** The one file of a survey, that of docs/settings/length.yaml. */
  private static final Map<String, String> FILE = Map.of("size", "15", "taper", "0.04");

  /** A trace ends this far past the foramen, µm. */
  private static final int DEEPEST_MICRONS = -700;

  /** A trace ends after this time, ns: the slowest hand needs some 140 s for the longest canal. */
  private static final long LONGEST_NS = 180_000_000_000L;

  /** A trace ends when the file has not come nearer for this long, ns: the hand has given up. */
  private static final long RESTED_NS = 10_000_000_000L;

  private static final int SPEED_MILLI_RPM = 300_000;

  /** Less than breaks the file, as the settings of the assessment have it, µN·m. */
  private static final int TORQUE_MICRO_NEWTON_METRES = 3_000;

  /** Longest delay of a sample that its true place is kept for, ticks. */
  private static final int KEPT = 1_024;

  private final Population population;
  private final String kind;
  private final int sampleMs;

  /**
   * A survey.
   *
   * @param seed seed of the population of teeth
   * @param kind one of {@link #KINDS}
   * @param sampleMs time between two samples, ms
   */
  public SurveyTraces(long seed, String kind, int sampleMs) {
    population = new Population(seed);
    this.kind = kind;
    this.sampleMs = sampleMs;
  }

  /**
   * Writes the traces. The bytes depend on the survey alone.
   *
   * @param directory where to; created if needed
   * @param teeth how many teeth
   * @param fluids each tooth is recorded in each of them
   * @param done called after every trace, by the thread that wrote it
   * @return how many traces
   * @throws IOException when they cannot be written
   */
  public int write(Path directory, int teeth, List<CanalCondition> fluids, Runnable done)
      throws IOException {
    Files.createDirectories(directory);
    try {
      IntStream.range(0, teeth * fluids.size())
          .parallel()
          .forEach(
              i -> {
                int tooth = i / fluids.size();
                CanalCondition fluid = fluids.get(i % fluids.size());
                try (Writer to = writer(directory.resolve(name(tooth, fluid)))) {
                  record(scene(tooth, fluid), to);
                } catch (IOException e) {
                  throw new UncheckedIOException(e);
                }
                done.run();
              });
    } catch (UncheckedIOException e) {
      throw e.getCause() == null ? new IOException(e) : e.getCause();
    }
    try (Writer manifest = writer(directory.resolve("manifest.csv"))) {
      manifest.write("file,tooth,fluid,simulated\n");
      for (int tooth = 0; tooth < teeth; tooth++) {
        for (CanalCondition fluid : fluids) {
          manifest.write(name(tooth, fluid) + "," + tooth(tooth) + "," + fluid + ",1\n");
        }
      }
    }
    return teeth * fluids.size();
  }

  private static Writer writer(Path file) throws IOException {
    return Files.newBufferedWriter(file, StandardCharsets.UTF_8);
  }

  private String tooth(int index) {
    return String.format(Locale.ROOT, "%s%04d", kind, index + 1);
  }

  private String name(int tooth, CanalCondition fluid) {
    return tooth(tooth) + "_" + fluid + ".csv";
  }

  /** The scene of a tooth in a fluid. */
  private Scene scene(int tooth, CanalCondition fluid) {
    Map<String, Map<String, String>> all = new HashMap<>(Training.FREQUENCIES);
    Map<String, String> frontEnd =
        new HashMap<>(Training.FREQUENCIES.getOrDefault("front_end", Map.of()));
    frontEnd.put("sample_ms", Integer.toString(sampleMs));
    all.put("front_end", frontEnd);
    all.put("file", FILE);
    all.put("hand", Map.of("start_above_mm", "3"));
    all.put("canal", Map.of("kind", kind));
    try {
      return population.member(tooth, fluid.fill, all);
    } catch (SettingsException e) {
      throw new IllegalStateException("tooth " + tooth + ": " + e.getMessage(), e);
    }
  }

  /** Writes one approach: the motor turns until the file is past the foramen. */
  static void record(Scene scene, Writer to) throws IOException {
    to.write("t_ms");
    for (int hertz : Training.HERTZ) {
      to.write(",z" + hertz + "hz_re_ohm,z" + hertz + "hz_im_ohm");
    }
    to.write(",true_remaining_mm\n");
    Plant plant = new Plant(scene);
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    out.drive = Drive.FORWARD;
    out.speedMilliRpm = SPEED_MILLI_RPM;
    out.torqueLimitMicroNewtonMetres = TORQUE_MICRO_NEWTON_METRES;
    Truth truth = new Truth();
    int[] places = new int[KEPT];
    plant.truth(truth);
    places[0] = truth.remainingMicrons;
    int deepest = truth.remainingMicrons;
    long deepestNs = 0;
    long sequence = -1;
    StringBuilder row = new StringBuilder();
    for (long now = Plant.TICK_NS; now < LONGEST_NS; now += Plant.TICK_NS) {
      plant.advance(now, out);
      plant.read(in);
      plant.truth(truth);
      places[(int) (now / Plant.TICK_NS % KEPT)] = truth.remainingMicrons;
      if (in.positionKind == PositionKind.IMPEDANCE && in.sampleSequence != sequence) {
        sequence = in.sampleSequence;
        row.setLength(0);
        decimal(row, in.sampleTimeNs / 1_000);
        for (int i = 0; i < in.frequencyCount; i++) {
          decimal(row.append(','), in.zRealMilliOhms[i]);
          decimal(row.append(','), in.zImagMilliOhms[i]);
        }
        decimal(row.append(','), places[(int) (in.sampleTimeNs / Plant.TICK_NS % KEPT)]);
        to.append(row.append('\n'));
      }
      if (truth.remainingMicrons < deepest) {
        deepest = truth.remainingMicrons;
        deepestNs = now;
      }
      if (deepest < DEEPEST_MICRONS
          || now - deepestNs > RESTED_NS
          || truth.file != FileCondition.WHOLE) {
        break;
      }
    }
  }

  /** Thousandths as a decimal number. */
  private static void decimal(StringBuilder to, long thousandths) {
    long size = Math.abs(thousandths);
    to.append(thousandths < 0 ? "-" : "").append(size / 1000);
    if (size % 1000 != 0) {
      to.append('.').append(Long.toString(1000 + size % 1000), 1, 4);
    }
  }
}
