package org.stopwell.rig.physics.field;

import org.stopwell.core.number.Elementary;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.Cole;
import org.stopwell.rig.physics.canal.PhaseElement;
import org.stopwell.rig.physics.canal.Surroundings;
import org.stopwell.rig.physics.file.Instrument;

/**
 * Solves the field of a tooth for one place of the file, with body and gum led to the lip clip.
 * What is left are file and chamber against the lip clip. Units SI.
 */
final class FieldSolver {
  /** Steps of the Krylov method: those left out change less than 1e-4; the tests hold it to it. */
  static final int DEPTH = 8;

  /** Corner of the way through the gum against that through the body: thinner; assumed. */
  private static final double GUM_CORNER = 2;

  /**
   * Numbers for a frequency: from the file to the lip clip, from the file to the chamber, and from
   * the chamber to the lip clip, each real and imaginary.
   */
  static final int NUMBERS = 6;

  private static final int FILE = FieldMesh.TERMINALS;

  private final FieldMesh mesh;
  private final FieldPorts ports;
  private final double[][] end;
  private final double[][] surface;
  private final double shift;
  private final double[][] re = new double[FILE + 1][FILE + 1];
  private final double[][] im = new double[FILE + 1][FILE + 1];

  /** The admittances solved last, S. */
  final double[] solved;

  /**
   * A solver for one tooth and file.
   *
   * @param tooth the tooth
   * @param hertz measuring frequencies, Hz
   * @param spacing height of the rows of the grid against the usual
   * @param split parts into which each usual column is cut
   * @param depth steps of the Krylov method
   */
  FieldSolver(FieldTooth.Parts tooth, double[] hertz, double spacing, int split, int depth) {
    Surroundings around = tooth.around();
    FieldAnatomy anatomy = tooth.anatomy();
    Canal canal = tooth.canal();
    mesh =
        new FieldMesh(around, canal, tooth.file(), tooth.chamberRadius(), anatomy, spacing, split);
    ports = new FieldPorts(mesh.grid.columns, depth);
    surface = surface(tooth.file(), hertz);
    end = new double[hertz.length][4];
    solved = new double[hertz.length * NUMBERS];
    double log = 0;
    for (int f = 0; f < hertz.length; f++) {
      log += Elementary.log(Elementary.hypot(surface[f][0], surface[f][1])) / hertz.length;
      end(f, FieldMesh.BODY, around, anatomy, 1 - anatomy.gumPart(), 1, hertz[f]);
      end(f, FieldMesh.GUM, around, anatomy, anatomy.gumPart(), GUM_CORNER, hertz[f]);
    }
    shift = Elementary.exp(log);
  }

  /** Admittance of the metal surface at each frequency, S/m². */
  static double[][] surface(Instrument file, double[] hertz) {
    double[][] siemens = new double[hertz.length][];
    for (int f = 0; f < hertz.length; f++) {
      PhaseElement metal =
          PhaseElement.of(
              file.interfaceMagnitude(), file.interfaceExponent(), 2 * Math.PI * hertz[f]);
      siemens[f] = new double[] {metal.siemensRe(), metal.siemensIm()};
    }
    return siemens;
  }

  /** One of the ways to the lip clip that lie side by side, by its share of the current. */
  private void end(
      int f,
      int terminal,
      Surroundings around,
      FieldAnatomy anatomy,
      double part,
      double cornerScale,
      double hertz) {
    double ohms = anatomy.bodyShare() * around.body() / part;
    Cole cole =
        Cole.of(
            ohms,
            ohms * around.bodyHighShare(),
            cornerScale * around.bodyCorner(),
            around.bodyExponent(),
            hertz);
    double size = 1 / (cole.ohmsRe() * cole.ohmsRe() + cole.ohmsIm() * cole.ohmsIm());
    end[f][2 * terminal] = cole.ohmsRe() * size;
    end[f][2 * terminal + 1] = -cole.ohmsIm() * size;
  }

  /** The grid of the place solved last. */
  FieldMesh mesh() {
    return mesh;
  }

  /** Admittance from a terminal to the lip clip: of body or gum, S, real part first. */
  double[] ends(int frequency) {
    return end[frequency];
  }

  /** Admittance of the metal surface, S/m², real part first. */
  double[] surface(int frequency) {
    return surface[frequency];
  }

  /**
   * Solves a place.
   *
   * @param remaining height of the tip above the foramen, m; in fluid, tissue, or above the canal
   * @param level level of the fluid above the foramen, m
   */
  void solve(double remaining, double level) {
    mesh.lay(remaining, level);
    ports.reduce(mesh, shift);
    for (int f = 0; f < surface.length; f++) {
      ports.admittances(surface[f][0], surface[f][1], re, im);
      for (int t = FieldMesh.BODY; t <= FieldMesh.GUM; t++) {
        re[t][t] += end[f][2 * t];
        im[t][t] += end[f][2 * t + 1];
      }
      eliminate(FieldMesh.BODY);
      eliminate(FieldMesh.GUM);
      int at = f * NUMBERS;
      double throughRe = -re[FILE][FieldMesh.CHAMBER];
      double throughIm = -im[FILE][FieldMesh.CHAMBER];
      solved[at] = re[FILE][FILE] - throughRe;
      solved[at + 1] = im[FILE][FILE] - throughIm;
      solved[at + 2] = throughRe;
      solved[at + 3] = throughIm;
      solved[at + 4] = re[FieldMesh.CHAMBER][FieldMesh.CHAMBER] - throughRe;
      solved[at + 5] = im[FieldMesh.CHAMBER][FieldMesh.CHAMBER] - throughIm;
    }
  }

  /** Takes a terminal away that nothing else is joined to. */
  private void eliminate(int p) {
    double size = 1 / (re[p][p] * re[p][p] + im[p][p] * im[p][p]);
    double ownRe = re[p][p] * size;
    double ownIm = -im[p][p] * size;
    for (int i = p + 1; i <= FILE; i++) {
      double shareRe = re[i][p] * ownRe - im[i][p] * ownIm;
      double shareIm = re[i][p] * ownIm + im[i][p] * ownRe;
      for (int k = p + 1; k <= FILE; k++) {
        re[i][k] -= shareRe * re[p][k] - shareIm * im[p][k];
        im[i][k] -= shareRe * im[p][k] + shareIm * re[p][k];
      }
    }
  }
}
