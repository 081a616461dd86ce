package org.stopwell.rig.physics.canal;

import java.util.Arrays;

/** Puts a network together as lines of a netlist for ngspice. */
final class SpiceJoints implements Joints {
  private final StringBuilder net;
  private final String[] open = new String[MeshedCircuit.NODES];
  private final String prefix;
  private final double radPerS;
  private int lines;

  /** The netlist of a canal, its source first. */
  SpiceJoints(StringBuilder net, int canal, double hertz) {
    this.net = net;
    radPerS = 2 * Math.PI * hertz;
    prefix = canal + "_";
    Arrays.setAll(open, i -> "n" + prefix + i);
    open[MeshedCircuit.GROUND] = "0";
    open[MeshedCircuit.FILE] = SpiceNetlist.source(net, canal);
  }

  @Override
  public void link(int node, int other, double siemensRe, double siemensIm) {
    SpiceNetlist.admittance(
        net, prefix + ++lines, open[node], open[other], siemensRe, siemensIm, radPerS);
  }

  @Override
  public void advance(int rail, double siemens) {
    String before = open[rail];
    open[rail] = "n" + prefix + rail + "_" + ++lines;
    SpiceNetlist.admittance(net, prefix + lines, before, open[rail], siemens, 0, radPerS);
  }

  /** Wire is a source of 0 V. */
  @Override
  public void merge(int rail, int into) {
    net.append("\nvwire").append(prefix).append(++lines).append(' ');
    net.append(open[rail]).append(' ').append(open[into]).append(" 0");
    open[rail] = "n" + prefix + rail + "_" + lines;
  }
}
