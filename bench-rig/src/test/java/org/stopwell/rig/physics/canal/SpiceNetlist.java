package org.stopwell.rig.physics.canal;

/** Solved canals as lines of a netlist for ngspice. */
public final class SpiceNetlist {
  private SpiceNetlist() {}

  /**
   * One canal: source, ladder resistors, wall, metal, foot, body and leak, each as R and C side by
   * side.
   */
  static void append(StringBuilder net, int canal, ToothCircuit circuit, int f, double hertz) {
    double radPerS = 2 * Math.PI * hertz;
    String file = source(net, canal);
    String tissue = "tissue" + canal;
    Ladder ladder = circuit.ladder();
    for (int k = 0; k < ladder.nodes(); k++) {
      String node = "n" + canal + "_" + k;
      if (k > 0) {
        resistor(
            net, "s" + canal + "_" + k, node, "n" + canal + "_" + (k - 1), ladder.seriesOhms(k));
      }
      admittance(net, "g" + canal + "_" + k, node, tissue, ladder.leakSiemens(k), 0, radPerS);
      admittance(
          net,
          "m" + canal + "_" + k,
          node,
          file,
          ladder.metalSquareMetres(k) * circuit.surface().re(f),
          ladder.metalSquareMetres(k) * circuit.surface().im(f),
          radPerS);
    }
    admittance(
        net,
        "foot" + canal,
        "n" + canal + "_0",
        tissue,
        circuit.foot().re(f),
        circuit.foot().im(f),
        radPerS);
    admittance(
        net, "body" + canal, tissue, "0", circuit.body().re(f), circuit.body().im(f), radPerS);
    admittance(net, "dry" + canal, file, tissue, circuit.drySiemens(), 0, radPerS);
    admittance(net, "stray" + canal, file, "0", 0, circuit.straySiemensIm(f), radPerS);
    admittance(
        net,
        "leak" + canal,
        "n" + canal + "_" + (ladder.nodes() - 1),
        "0",
        circuit.leakSiemens(),
        0,
        radPerS);
  }

  /** The source of a canal: 1 V between the file, whose name this gives, and ground. */
  public static String source(StringBuilder net, int canal) {
    String file = "file" + canal;
    net.append("\nv").append(canal).append(' ').append(file).append(" 0 dc 0 ac 1");
    return file;
  }

  /** An admittance as R and C side by side; what is 0 is left out. */
  public static void admittance(
      StringBuilder net, String name, String from, String to, double g, double b, double radPerS) {
    if (g != 0) {
      resistor(net, name, from, to, 1 / g);
    }
    if (b != 0) {
      net.append("\nc").append(name).append(' ').append(from).append(' ').append(to).append(' ');
      net.append(b / radPerS);
    }
  }

  private static void resistor(
      StringBuilder net, String name, String from, String to, double ohms) {
    net.append("\nr").append(name).append(' ').append(from).append(' ').append(to).append(' ');
    net.append(ohms);
  }
}
