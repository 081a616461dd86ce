package org.stopwell.harness.assess;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.stream.IntStream;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/** Simulated traces of teeth by a model that is not the one of the training. */
public final class ToothTraces {
  private static final long SEED = 990_017;
  private static final double FROM_MM = 5;

  private ToothTraces() {}

  /** Writes traces of teeth with a half-wet and a brimful canal each, and their manifest. */
  public static void write(Path directory, String kind, int first, int teeth) throws IOException {
    StringBuilder manifest = new StringBuilder("file,tooth,fluid\n");
    for (int i = first; i < first + teeth; i++) {
      for (Fill fill : new Fill[] {Fill.HALF_WET, Fill.BRIMFUL}) {
        String name = "t" + i + "_" + fill.ordinal() + ".csv";
        manifest.append(name).append(",t").append(i).append(',');
        manifest.append(fill == Fill.BRIMFUL ? "brimful" : "half-wet").append('\n');
      }
    }
    IntStream.range(first, first + teeth)
        .parallel()
        .forEach(
            i -> {
              try {
                for (Fill fill : new Fill[] {Fill.HALF_WET, Fill.BRIMFUL}) {
                  Files.writeString(
                      directory.resolve("t" + i + "_" + fill.ordinal() + ".csv"),
                      trace(kind, i, fill));
                }
              } catch (IOException e) {
                throw new UncheckedIOException(e);
              } catch (SettingsException e) {
                throw new IllegalStateException(e);
              }
            });
    Files.writeString(directory.resolve("manifest.csv"), manifest);
  }

  private static String trace(String kind, int member, Fill fill) throws SettingsException {
    Scene scene =
        new Population(SEED)
            .member(
                member,
                fill,
                Map.of(
                    "front_end",
                    Training.FREQUENCIES.get("front_end"),
                    "canal",
                    Map.of("kind", kind),
                    "file",
                    Map.of("size", "15", "taper", "0.02")));
    TrainingApproach approach =
        new TrainingApproach(scene, RandomStream.of(scene.seed(), "trace"), Tooth.of(scene));
    ControllerInput in = new ControllerInput();
    StringBuilder text = new StringBuilder("t_ms");
    for (int hertz : Training.HERTZ) {
      text.append(",z").append(hertz).append("hz_re_ohm,z").append(hertz).append("hz_im_ohm");
    }
    text.append(",true_remaining_mm\n");
    for (long row = 0; approach.next(in); row++) {
      if (approach.remaining() > FROM_MM) {
        continue;
      }
      text.append(5 * row);
      for (int f = 0; f < Training.HERTZ.length; f++) {
        text.append(',').append(BigDecimal.valueOf(in.zRealMilliOhms[f], 3));
        text.append(',').append(BigDecimal.valueOf(in.zImagMilliOhms[f], 3));
      }
      text.append(',').append(String.format("%.3f", approach.remaining())).append('\n');
    }
    return text.toString();
  }
}
