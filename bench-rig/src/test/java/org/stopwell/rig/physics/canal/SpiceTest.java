package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.virtual.Specimen;

/** The solver against ngspice: the same networks as netlists, alternating-current analysis. */
class SpiceTest {
  private static final int CANALS = 60;
  private static final int[] HERTZ = {100, 700, 7000, 20_000};
  private static final long SEED = 20_260_101;
  private static final double ALLOWED = 1e-6;

  @TempDir Path directory;

  @Test
  void sixty_random_canals_at_four_frequencies_agree_with_ngspice() throws Exception {
    List<Complex> ours = new ArrayList<>();
    List<StringBuilder> netlists = new ArrayList<>();
    for (int hertz : HERTZ) {
      netlists.add(new StringBuilder("* " + CANALS + " canals at " + hertz + " Hz, seed " + SEED));
    }
    RandomStream random = RandomStream.of(SEED, "places");
    for (int i = 0; i < CANALS; i++) {
      Fill fill = Fill.values()[1 + i % 3];
      Scene scene = new Population(SEED).member(i, fill, frontEnd());
      double remaining = random.nextBetween(-1.5, 9) * 1e-3;
      Specimen specimen = new Specimen(scene);
      ToothCircuit circuit = (ToothCircuit) specimen.at(remaining);
      for (int f = 0; f < HERTZ.length; f++) {
        ours.add(new Complex(circuit.ohmsRe(f), circuit.ohmsIm(f)));
        SpiceNetlist.append(netlists.get(f), i, circuit, f, HERTZ[f]);
      }
    }
    int compared = 0;
    for (int f = 0; f < HERTZ.length; f++) {
      Map<Integer, Complex> currents = solve(netlists.get(f), HERTZ[f]);
      for (int i = 0; i < CANALS; i++) {
        Complex z = ours.get(i * HERTZ.length + f);
        Complex spice = Objects.requireNonNull(currents.get(i));
        // the source drives 1 V, and its current flows out of the plus terminal
        double size = spice.re * spice.re + spice.im * spice.im;
        double re = -spice.re / size;
        double im = spice.im / size;
        double miss = Math.hypot(z.re - re, z.im - im) / Math.hypot(re, im);
        assertEquals(
            0, miss, ALLOWED, "canal " + i + " at " + HERTZ[f] + " Hz: " + z + ", ngspice " + re);
        compared++;
      }
    }
    assertEquals(CANALS * HERTZ.length, compared);
  }

  private record Complex(double re, double im) {}

  private static Map<String, Map<String, String>> frontEnd() {
    return Map.of(
        "front_end",
        Map.of(
            "frequency_1_hz", "100",
            "frequency_2_hz", "700",
            "frequency_3_hz", "7000",
            "frequency_4_hz", "20000"));
  }

  private static final Pattern ANSWER =
      Pattern.compile("^i\\(v(\\d+)\\) = ([-+.e\\d]+),\\s*([-+.e\\d]+)", Pattern.MULTILINE);

  private Map<Integer, Complex> solve(StringBuilder netlist, int hertz) throws Exception {
    netlist.append("\n.control\nset numdgt=15\nac lin 1 ").append(hertz).append(' ').append(hertz);
    for (int i = 0; i < CANALS; i++) {
      netlist.append("\nprint i(v").append(i).append(')');
    }
    netlist.append("\nquit 0\n.endc\n.end\n");
    Path file = directory.resolve("canals-" + hertz + ".cir");
    Path log = directory.resolve("canals-" + hertz + ".log");
    Files.writeString(file, netlist);
    Process spice =
        new ProcessBuilder("ngspice", "-b", file.toString())
            .redirectErrorStream(true)
            .redirectOutput(log.toFile())
            .start();
    assertTrue(spice.waitFor(120, TimeUnit.SECONDS), "ngspice did not end");
    String answer = Files.readString(log, StandardCharsets.UTF_8);
    Matcher matcher = ANSWER.matcher(answer);
    Map<Integer, Complex> currents = new HashMap<>();
    while (matcher.find()) {
      currents.put(
          Integer.valueOf(matcher.group(1)),
          new Complex(Double.parseDouble(matcher.group(2)), Double.parseDouble(matcher.group(3))));
    }
    assertEquals(CANALS, currents.size(), answer);
    return currents;
  }
}
