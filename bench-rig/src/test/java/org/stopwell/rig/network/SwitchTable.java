package org.stopwell.rig.network;

import java.util.List;
import java.util.function.IntFunction;
import java.util.stream.IntStream;
import org.stopwell.rig.network.Network.Code;

/**
 * Switch codes by position of the stage, and what they achieve.
 *
 * @param rows one row per position
 */
public record SwitchTable(List<Row> rows) {

  /**
   * One position.
   *
   * @param remainingMicrons distance to the foramen, positive short of it, µm
   * @param targets what is wanted there
   * @param code the best switches
   * @param achieved what they make, per target
   * @param worstError worst relative error over the targets
   */
  public record Row(
      int remainingMicrons,
      List<Target> targets,
      Code code,
      List<Impedance> achieved,
      double worstError) {}

  /** Copies the rows. */
  public SwitchTable {
    rows = List.copyOf(rows);
  }

  /**
   * Makes a table.
   *
   * @param network the network as built or measured
   * @param fromMicrons first position, µm
   * @param toMicrons last position, µm
   * @param stepMicrons distance between positions, µm
   * @param law what is wanted at a position
   * @return the table
   */
  public static SwitchTable of(
      Network network,
      int fromMicrons,
      int toMicrons,
      int stepMicrons,
      IntFunction<List<Target>> law) {
    int count = (toMicrons - fromMicrons) / stepMicrons + 1;
    return new SwitchTable(
        IntStream.range(0, count)
            .mapToObj(i -> row(network, fromMicrons + i * stepMicrons, law))
            .toList());
  }

  private static Row row(Network network, int remaining, IntFunction<List<Target>> law) {
    List<Target> targets = law.apply(remaining);
    Code code = network.codeFor(targets);
    List<Impedance> achieved =
        targets.stream().map(t -> network.impedance(code, t.hertz())).toList();
    return new Row(remaining, targets, code, achieved, network.worstError(code, targets));
  }

  /**
   * The greatest relative error of all rows.
   *
   * @return a share
   */
  public double worstError() {
    return rows.stream().mapToDouble(Row::worstError).max().orElse(0);
  }
}
