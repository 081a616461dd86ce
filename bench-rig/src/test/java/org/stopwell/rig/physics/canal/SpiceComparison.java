package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Canals solved by us and, as netlists, by ngspice: alternating-current analysis. */
public final class SpiceComparison {
  /** Frequencies, Hz, as a scene wants them too. */
  static final int[] HERTZ = {100, 700, 7000, 20_000};

  private static final double ALLOWED = 1e-6;

  private static final Pattern ANSWER =
      Pattern.compile("^i\\(v(\\d+)\\) = ([-+.e\\d]+),\\s*([-+.e\\d]+)", Pattern.MULTILINE);

  private record Complex(double re, double im) {}

  private final Path directory;
  private final List<Complex> ours = new ArrayList<>();
  private final List<StringBuilder> netlists = new ArrayList<>();
  private int canals;

  /** A comparison that leaves its netlists in a directory. */
  public SpiceComparison(Path directory) {
    this.directory = directory;
    for (int hertz : HERTZ) {
      netlists.add(new StringBuilder("* canals at " + hertz + " Hz"));
    }
  }

  /** The frequencies, Hz. */
  public static double[] hertz() {
    return Arrays.stream(HERTZ).asDoubleStream().toArray();
  }

  /** The section of a scene that measures at these frequencies. */
  public static Map<String, Map<String, String>> frontEnd() {
    return Map.of(
        "front_end",
        Map.of(
            "frequency_1_hz", "100",
            "frequency_2_hz", "700",
            "frequency_3_hz", "7000",
            "frequency_4_hz", "20000"));
  }

  /** Writes one canal at one frequency; its source is called v and the number of the canal. */
  public interface Writer {
    void append(StringBuilder net, int canal, int frequency, double hertz);
  }

  /** Adds a solved canal. */
  public void add(MeasuringCircuit solved, Writer writer) {
    for (int f = 0; f < HERTZ.length; f++) {
      ours.add(new Complex(solved.ohmsRe(f), solved.ohmsIm(f)));
      writer.append(netlists.get(f), canals, f, HERTZ[f]);
    }
    canals++;
  }

  /** Lets ngspice solve all; how many impedances agree. */
  public int agree() throws Exception {
    int compared = 0;
    for (int f = 0; f < HERTZ.length; f++) {
      Map<Integer, Complex> currents = solve(netlists.get(f), HERTZ[f]);
      for (int i = 0; i < canals; i++) {
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
    return compared;
  }

  private Map<Integer, Complex> solve(StringBuilder netlist, int hertz) throws Exception {
    netlist.append("\n.control\nset numdgt=15\nac lin 1 ").append(hertz).append(' ').append(hertz);
    for (int i = 0; i < canals; i++) {
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
    assertTrue(spice.waitFor(200, TimeUnit.SECONDS), "ngspice did not end");
    String answer = Files.readString(log, StandardCharsets.UTF_8);
    Matcher matcher = ANSWER.matcher(answer);
    Map<Integer, Complex> currents = new HashMap<>();
    while (matcher.find()) {
      currents.put(
          Integer.valueOf(matcher.group(1)),
          new Complex(Double.parseDouble(matcher.group(2)), Double.parseDouble(matcher.group(3))));
    }
    assertEquals(canals, currents.size(), answer);
    return currents;
  }
}
