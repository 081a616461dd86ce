package org.stopwell.rig.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.network.Network.Code;
import org.stopwell.rig.random.RandomStream;

class NetworkTest {
  private static final double[] HERTZ = {500, 8000};

  private final RandomStream random = RandomStream.of(11, "network");
  private final Network network =
      new Network(
          LadderDesign.choose(30, 70_000, ESeries.E96, 0.01, SwitchSpec.RELAY)
              .built(nominal -> random.nextBetween(-1, 1)),
          CapacitorDesign.choose(1e-9, 15e-9, ESeries.E6, 0.05, 0.1)
              .built(nominal -> random.nextBetween(-1, 1)));

  /** 10 kΩ across 10 nF at 1 kHz: Z = R/(1 + jωRC), ωRC = 0.62832 (computed). */
  @Test
  void aResistorAcrossACapacitorIsTheClosedForm() {
    Network one =
        new Network(
            new Ladder(List.of(new Rung(10_000, 0, Double.POSITIVE_INFINITY))),
            new CapacitorBank(List.of(10e-9), 0));
    double x = 2 * Math.PI * 1000 * 10_000 * 10e-9;
    Impedance z = one.impedance(new Code(1, 1), 1000);
    assertEquals(10_000 / (1 + x * x), z.re(), 1e-9);
    assertEquals(-10_000 * x / (1 + x * x), z.im(), 1e-9);
  }

  /** The magnitudes of 10 kΩ across 10 nF lead back to them; those of a coil do not. */
  @Test
  void twoMagnitudesGiveTheResistorAndTheCapacitor() {
    Network one =
        new Network(
            new Ladder(List.of(new Rung(10_000, 0, Double.POSITIVE_INFINITY))),
            new CapacitorBank(List.of(10e-9), 0));
    Code both = new Code(1, 1);
    Target low = new Target(500, one.impedance(both, 500));
    Target high = new Target(8000, one.impedance(both, 8000));
    assertEquals(both, one.codeFor(Pair.ofMagnitudes(low, high)));
    // At equal magnitudes it is a resistor alone.
    Impedance plain = new Impedance(10_000, 0);
    assertEquals(
        new Code(1, 0),
        one.codeFor(Pair.ofMagnitudes(new Target(500, plain), new Target(8000, plain))));
    assertThrows(
        IllegalArgumentException.class,
        () -> Pair.ofMagnitudes(low, new Target(8000, new Impedance(11_000, 0))));
    assertThrows(
        IllegalArgumentException.class,
        () -> Pair.ofMagnitudes(low, new Target(8000, new Impedance(1, 0))));
  }

  @Test
  void noToleranceOpensAGapInTheBankWiderThanTheStep() {
    CapacitorDesign design = CapacitorDesign.choose(1e-9, 60e-9, ESeries.E6, 0.05, 0.1);
    for (int corner = 0; corner < 64; corner++) {
      int pattern = corner;
      int[] next = {0};
      CapacitorBank bank = design.built(nominal -> (pattern >> next[0]++ % 6 & 1) == 1 ? 1 : -1);
      double[] made =
          IntStream.range(0, 1 << bank.farads().size())
              .mapToDouble(bank::farads)
              .sorted()
              .toArray();
      assertTrue(made[made.length - 1] >= 60e-9, "corner " + corner);
      for (int i = 1; i < made.length; i++) {
        assertTrue(made[i] - made[i - 1] <= 1e-9 * (1 + 1e-9), "corner " + corner);
      }
    }
    assertThrows(
        IllegalArgumentException.class,
        () -> CapacitorDesign.choose(1e-12, 60e-9, ESeries.E6, 0.05, 0.1));
  }

  @Test
  void theCodeForWhatTheNetworkMakesIsThatCodeOrOneAsGood() {
    for (int i = 0; i < 200; i++) {
      Code code = new Code((int) random.nextBetween(200, 10_000), (int) random.nextBetween(0, 16));
      List<Target> targets = targets(code);
      double error = network.worstError(network.codeFor(targets), targets);
      assertTrue(error < 2e-3, "seed 11: error " + error);
    }
  }

  /** The programme that the electronics world checks against: every part of it as a netlist. */
  @Test
  void ngspiceSaysTheSame() throws Exception {
    List<Code> codes = new ArrayList<>();
    StringBuilder wanted = new StringBuilder();
    StringBuilder netlist = new StringBuilder("network\n");
    for (int i = 0; i < 20; i++) {
      Code code = new Code((int) random.nextBetween(1, 10_000), (int) random.nextBetween(0, 16));
      codes.add(code);
      netlist(netlist, code, i);
      wanted.append(code).append('\n');
    }
    netlist.append(".control\nset numdgt=12\n");
    for (double hertz : HERTZ) {
      netlist.append(String.format(Locale.ROOT, "ac lin 1 %.1f %.1f\nprint", hertz, hertz));
      for (int i = 0; i < codes.size(); i++) {
        netlist.append(" v(n").append(i).append(')');
      }
      netlist.append('\n');
    }
    netlist.append("quit\n.endc\n.end\n");
    List<Impedance> spice = spice(netlist.toString());
    assertEquals(codes.size() * HERTZ.length, spice.size(), "seed 11\n" + wanted);
    for (int f = 0; f < HERTZ.length; f++) {
      for (int i = 0; i < codes.size(); i++) {
        Impedance ours = network.impedance(codes.get(i), HERTZ[f]);
        double off = ours.relativeError(spice.get(f * codes.size() + i));
        assertTrue(off < 2e-9, "seed 11, " + codes.get(i) + ": " + off);
      }
    }
  }

  private List<Target> targets(Code code) {
    List<Target> targets = new ArrayList<>();
    for (double hertz : HERTZ) {
      targets.add(new Target(hertz, network.impedance(code, hertz)));
    }
    return targets;
  }

  /** A current of 1 A into the network, so that the voltage is the impedance. */
  private void netlist(StringBuilder to, Code code, int n) {
    List<Rung> rungs = network.ladder().rungs();
    to.append("I%d 0 n%d ac 1\n".formatted(n, n));
    for (int k = 0; k < rungs.size(); k++) {
      String a = k == 0 ? "n" + n : "n" + n + "_" + k;
      String b = k == rungs.size() - 1 ? "0" : "n" + n + "_" + (k + 1);
      Rung rung = rungs.get(k);
      double bridge = (code.resistors() >> k & 1) == 1 ? rung.offOhms() : rung.onOhms();
      to.append(part("R%d_%d".formatted(n, k), a, b, rung.ohms()));
      to.append(part("RS%d_%d".formatted(n, k), a, b, bridge));
    }
    for (int k = 0; k < network.bank().farads().size(); k++) {
      if ((code.capacitors() >> k & 1) == 1) {
        String middle = "m%d_%d".formatted(n, k);
        to.append(part("RC%d_%d".formatted(n, k), "n" + n, middle, network.bank().onOhms()));
        to.append(part("C%d_%d".formatted(n, k), middle, "0", network.bank().farads().get(k)));
      }
    }
  }

  private static String part(String name, String a, String b, double value) {
    return String.format(Locale.ROOT, "%s %s %s %.17g\n", name, a, b, value);
  }

  private static List<Impedance> spice(String netlist) throws IOException, InterruptedException {
    Process ngspice = new ProcessBuilder("ngspice", "-b").redirectErrorStream(true).start();
    try (var to = ngspice.getOutputStream()) {
      to.write(netlist.getBytes(StandardCharsets.US_ASCII));
    }
    String said = new String(ngspice.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    ngspice.waitFor();
    List<Impedance> found = new ArrayList<>();
    Matcher m = Pattern.compile("v\\(n\\d+\\) = ([-+.e\\d]+),([-+.e\\d]+)").matcher(said);
    while (m.find()) {
      found.add(new Impedance(Double.parseDouble(m.group(1)), Double.parseDouble(m.group(2))));
    }
    assertTrue(!found.isEmpty(), said);
    return found;
  }
}
