package org.stopwell.rig.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.random.RandomStream;

/** The chain against ngspice: every resistor, relay contact and capacitor as a netlist. */
class ChainSpiceTest {
  private static final double[] HERTZ = {200, 3_000, 20_000};

  @Test
  void ngspiceSaysTheSame() throws Exception {
    BuiltChain built = ChainPageTest.drawn(5, 45e-12).with(0x69);
    RandomStream random = RandomStream.of(5, "codes");
    List<int[]> all = new ArrayList<>();
    StringBuilder net = new StringBuilder("chains\n");
    for (int n = 0; n < 20; n++) {
      int[] codes = new int[built.chain().segments()];
      codes[0] = (int) (long) random.nextBetween(0, (double) (1L << built.first().size()));
      for (int k = 1; k < codes.length; k++) {
        codes[k] = (int) random.nextBetween(0, 1 << 14);
      }
      all.add(codes);
      netlist(net, built, codes, n);
    }
    net.append(".control\nset numdgt=12\n");
    for (double hertz : HERTZ) {
      net.append(String.format(Locale.ROOT, "ac lin 1 %.1f %.1f\nprint", hertz, hertz));
      for (int n = 0; n < all.size(); n++) {
        net.append(" v(n").append(n).append("_0)");
      }
      net.append('\n');
    }
    net.append("quit\n.endc\n.end\n");
    List<Impedance> spice = spice(net.toString());
    assertEquals(all.size() * HERTZ.length, spice.size());
    for (int f = 0; f < HERTZ.length; f++) {
      for (int n = 0; n < all.size(); n++) {
        Impedance ours = built.impedance(all.get(n), HERTZ[f]);
        double off = ours.relativeError(spice.get(f * all.size() + n));
        assertTrue(off < 1e-6, "seed 5, chain " + n + " at " + HERTZ[f] + " Hz: " + off);
      }
    }
  }

  /** A current of 1 A into the chain, so that the voltage is the impedance. */
  private static void netlist(StringBuilder net, BuiltChain built, int[] codes, int n) {
    net.append("I%d 0 n%d_0 ac 1\n".formatted(n, n));
    net.append(part("CS" + n, "n" + n + "_0", "0", built.chain().strayFarads()));
    List<Rung> first = new ArrayList<>(built.first().fine());
    first.addAll(built.first().steps());
    first.addAll(built.first().ranges());
    int node = 0;
    for (int segment = 0; segment < codes.length; segment++) {
      String begin = "n" + n + "_" + node;
      List<Rung> rungs = segment == 0 ? first : built.segments().get(segment - 1).ladder().rungs();
      double base = segment == 0 ? built.first().base() : built.segments().get(segment - 1).base();
      String at = begin;
      // No part stands for 0 Ω: each version of ngspice would put another small resistor there.
      int parts = rungs.size() + (base > 0 ? 1 : 0);
      for (int k = 0; k < parts; k++) {
        boolean last = k == parts - 1 && segment == codes.length - 1;
        String next = last ? "0" : "n" + n + "_" + ++node;
        String name = n + "_" + segment + "_" + k;
        if (k == rungs.size()) {
          net.append(part("R" + name, at, next, base));
        } else {
          Rung rung = rungs.get(k);
          boolean open = (codes[segment] >> k & 1) == 1;
          net.append(part("R" + name, at, next, rung.ohms()));
          net.append(part("RS" + name, at, next, open ? rung.offOhms() : rung.onOhms()));
        }
        at = next;
      }
      if (segment > 0) {
        net.append(
            part("C" + n + "_" + segment, begin, at, built.chain().farads().get(segment - 1)));
      }
    }
  }

  private static String part(String name, String a, String b, double value) {
    return String.format(Locale.ROOT, "%s %s %s %.17g\n", name, a, b, value);
  }

  private static List<Impedance> spice(String netlist) throws Exception {
    Process ngspice = new ProcessBuilder("ngspice", "-b").redirectErrorStream(true).start();
    try (var to = ngspice.getOutputStream()) {
      to.write(netlist.getBytes(StandardCharsets.US_ASCII));
    }
    String said = new String(ngspice.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    ngspice.waitFor();
    List<Impedance> found = new ArrayList<>();
    Matcher m = Pattern.compile("v\\(n\\d+_0\\) = ([-+.e\\d]+),([-+.e\\d]+)").matcher(said);
    while (m.find()) {
      found.add(new Impedance(Double.parseDouble(m.group(1)), Double.parseDouble(m.group(2))));
    }
    assertTrue(!found.isEmpty(), said);
    return found;
  }
}
