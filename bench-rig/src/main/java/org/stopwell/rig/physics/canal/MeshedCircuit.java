package org.stopwell.rig.physics.canal;

import org.stopwell.core.number.Elementary;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.random.RandomStream;

/**
 * A tooth by a third network, for what has learned from the first and was looked at on the second.
 *
 * <p>It shares canal, file and fluid with {@link ToothCircuit}. The file leans on the wall, so the
 * fluid beside it is two lanes of different width that touch each other here and there. Its surface
 * is an oxide film in series with a double layer. Beyond the dentine there is no ideal ground but
 * the ligament, a conductor along the root that gives its current to the bone around it and at its
 * upper end to the gingiva; body and gingiva lead to the lip clip side by side. Close to the
 * foramen the canal has two more ways out. Fluid in the chamber leaks through the crown into a film
 * that runs down its outside.
 *
 * <p>Values that no scene gives are drawn for each tooth from assumed spreads, as are the constants
 * where no source is given. Units SI.
 */
public final class MeshedCircuit extends SolvedCircuit {
  static final int GROUND = 0;
  static final int FILE = 1;
  private static final int BODY = 2;
  private static final int LIGAMENT = 3;
  private static final int WIDE = 4;
  private static final int NARROW = 5;
  private static final int FILM = 6;

  /** How many nodes and rails there are. */
  static final int NODES = 7;

  private static final double OMEGA_1_KHZ = 2 * Math.PI * 1000;

  /** Share of the nominal resistance to the lip that is left beyond ligament and bone: assumed. */
  private static final double BODY_SHARE = 0.7;

  /** Corner of the way through the gingiva against that through the body: thinner; assumed. */
  private static final double GINGIVA_CORNER = 2;

  /** What the grip of the file insulates, S: a teraohm, assumed. */
  private static final double INSULATION = 1e-12;

  /** Parts of the film on the crown. */
  private static final int FILM_PARTS = 4;

  private final Surroundings around;
  private final Instrument file;
  private final MeshedCells place;
  private final double[] straySiemens;
  private final Admittances surface;
  private final Admittances body;
  private final Admittances gingiva;
  private final StarMesh mesh = new StarMesh(NODES);

  /**
   * The tooth of a scene by this network.
   *
   * @param around what surrounds and fills the canal
   * @param canal the canal
   * @param bore its hollow, which may be widened later
   * @param file the file
   * @param hertz measuring frequencies, Hz
   * @param strayFarads capacitance of the measuring cable, F
   * @param random source of the values that the scene does not give
   */
  public MeshedCircuit(
      Surroundings around,
      Canal canal,
      Bore bore,
      Instrument file,
      double[] hertz,
      double strayFarads,
      RandomStream random) {
    super(hertz.length);
    this.around = around;
    this.file = file;
    place = new MeshedCells(around, canal, bore, file, random);
    int n = hertz.length;
    straySiemens = new double[n];
    surface = new Admittances(n);
    body = new Admittances(n);
    gingiva = new Admittances(n);
    double oxide = random.nextBetween(0.3, 0.6);
    // a film that the turning file scratches to one that is whole
    double oxideLeak = MeshedCells.logBetween(random, 0.005, 0.5);
    double throughGingiva = random.nextBetween(0.2, 0.4);
    for (int f = 0; f < n; f++) {
      straySiemens[f] = 2 * Math.PI * hertz[f] * strayFarads;
      metal(f, 2 * Math.PI * hertz[f], oxide, oxideLeak);
      way(body, f, hertz[f], 1 - throughGingiva, 1);
      way(gingiva, f, hertz[f], throughGingiva, GINGIVA_CORNER);
    }
  }

  /**
   * The metal surface: what the file's magnitude says of it at 1 kHz is shared between an oxide
   * film, a capacitor with a leak of its own, and the double layer, a constant-phase element.
   *
   * @param oxide share of the film in the magnitude of the impedance
   * @param oxideLeak leak of the film, Ω·m²
   */
  private void metal(int f, double radPerS, double oxide, double oxideLeak) {
    double exponent = file.interfaceExponent();
    PhaseElement layer =
        PhaseElement.of(file.interfaceMagnitude() / (1 - oxide), exponent, radPerS);
    double farads = file.interfaceMagnitude() * Elementary.pow(OMEGA_1_KHZ, exponent - 1) / oxide;
    double g = 1 / oxideLeak;
    double b = radPerS * farads;
    double size = 1 / (g * g + b * b);
    double layerSize =
        1 / (layer.siemensRe() * layer.siemensRe() + layer.siemensIm() * layer.siemensIm());
    invert(
        surface,
        f,
        g * size + layer.siemensRe() * layerSize,
        -b * size - layer.siemensIm() * layerSize);
  }

  /** One of the ways to the lip clip that lie side by side, by its share of the current. */
  private void way(Admittances to, int f, double hertz, double share, double cornerScale) {
    double ohms = BODY_SHARE * around.body() / share;
    Cole cole =
        Cole.of(
            ohms,
            ohms * around.bodyHighShare(),
            cornerScale * around.bodyCorner(),
            around.bodyExponent(),
            hertz);
    invert(to, f, cole.ohmsRe(), cole.ohmsIm());
  }

  private static void invert(Admittances to, int f, double ohmsRe, double ohmsIm) {
    double size = 1 / (ohmsRe * ohmsRe + ohmsIm * ohmsIm);
    to.set(f, ohmsRe * size, -ohmsIm * size);
  }

  @Override
  public void solve(double remaining, double level) {
    place.build(remaining, level);
    for (int f = 0; f < re.length; f++) {
      mesh.clear();
      assemble(f, mesh);
      double g = mesh.siemensRe(FILE, GROUND);
      double b = mesh.siemensIm(FILE, GROUND);
      double size = 1 / (g * g + b * b);
      re[f] = g * size;
      im[f] = -b * size;
    }
  }

  /**
   * Puts the network of the place solved last together, from the foramen up.
   *
   * @param f index of the frequency
   * @param joints its joints
   */
  void assemble(int f, Joints joints) {
    joints.link(WIDE, LIGAMENT, place.accessSiemens, 0);
    joints.link(LIGAMENT, BODY, place.capSiemens, 0);
    at(0, f, joints);
    for (int i = 0; i < place.cells; i++) {
      boolean lanes = place.narrow[i] > 0;
      boolean begin = lanes && (i == 0 || place.narrow[i - 1] == 0);
      half(i, f, lanes && !begin ? NARROW : WIDE, joints);
      if (begin) {
        joints.link(NARROW, WIDE, place.narrow[i], 0);
      } else {
        joints.advance(NARROW, place.narrow[i]);
      }
      joints.advance(WIDE, place.wide[i]);
      joints.advance(LIGAMENT, place.ligament[i]);
      half(i, f, lanes ? NARROW : WIDE, joints);
      at(i + 1, f, joints);
    }
    if (place.depth > 0) {
      chamber(f, joints);
    }
    joints.link(LIGAMENT, GROUND, gingiva.re(f), gingiva.im(f));
    joints.link(BODY, GROUND, body.re(f), body.im(f));
    joints.link(FILE, GROUND, INSULATION, straySiemens[f]);
    joints.advance(NARROW, 0);
    joints.advance(WIDE, 0);
    joints.advance(LIGAMENT, 0);
    joints.advance(BODY, 0);
  }

  /** Parts at one node: the blunt tip, and ways out of the canal. */
  private void at(int node, int f, Joints joints) {
    if (node == place.tipNode) {
      touch(f, WIDE, place.tipMetal, joints);
    }
    if (place.wayOut[node] > 0) {
      joints.link(WIDE, LIGAMENT, place.wayOut[node], 0);
    }
  }

  /** Half of a cell's wall, metal and bone at one of its ends; half of that in either lane. */
  private void half(int i, int f, int lane, Joints joints) {
    joints.link(LIGAMENT, BODY, 0.5 * place.bone[i], 0);
    if (place.wide[i] > 0) {
      joints.link(WIDE, LIGAMENT, 0.25 * place.wall[i], 0);
      joints.link(lane, LIGAMENT, 0.25 * place.wall[i], 0);
    }
    if (place.metal[i] > 0) {
      touch(f, WIDE, 0.25 * place.metal[i], joints);
      touch(f, lane, 0.25 * place.metal[i], joints);
    }
    if (lane == NARROW) {
      joints.link(WIDE, NARROW, 0.5 * place.across[i], 0);
    }
    if (place.dry[i] > 0) {
      joints.link(FILE, LIGAMENT, 0.5 * place.dry[i], 0);
    }
  }

  private void touch(int f, int rail, double squareMetres, Joints joints) {
    joints.link(FILE, rail, squareMetres * surface.re(f), squareMetres * surface.im(f));
  }

  /**
   * Fluid in the chamber is one with both lanes. The crown leaks evenly over its height into a film
   * that leads to the gingiva, as good as the lip clip; a full chamber runs over into its end.
   */
  private void chamber(int f, Joints joints) {
    joints.merge(NARROW, WIDE);
    touch(f, WIDE, place.shankMetal, joints);
    double crown = around.throughCrown(place.depth);
    if (crown > 0) {
      joints.link(WIDE, GROUND, crown, 0);
    }
    double part = around.overflow() * FILM_PARTS;
    double height = around.chamberDepth() / FILM_PARTS;
    joints.link(FILM, GROUND, 2 * part, 0);
    for (int i = 0; i < FILM_PARTS; i++) {
      double above = place.depth - i * height;
      double wet = above < height ? Math.max(0, above) / height : 1;
      joints.link(FILM, WIDE, wet * around.leak() / FILM_PARTS, 0);
      joints.advance(FILM, i < FILM_PARTS - 1 ? part : 2 * part);
    }
    if (Surroundings.full(place.depth, around.chamberDepth())) {
      joints.merge(FILM, WIDE);
    } else {
      joints.advance(FILM, 0);
    }
  }
}
