package org.stopwell.rig.physics.canal;

import java.util.Arrays;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.random.RandomStream;

/**
 * A tooth by a third network, for what has learned from the first and was looked at on the second.
 *
 * <p>It shares canal, file and fluid with {@link ToothCircuit}. The file leans on the wall, so the
 * fluid beside it is two lanes of different width that touch each other here and there. Its surface
 * is an oxide film in series with a double layer. The root wall conducts better towards the
 * orifice, and beyond it there is no ideal ground but the ligament, a conductor along the root that
 * gives its current to the bone around it and at its upper end to the gingiva; body and gingiva
 * lead to the lip electrode side by side. Close to the foramen the canal has two more ways out.
 * Fluid in the chamber leaks through the crown into a film that runs down its outside.
 *
 * <p>What no scene tells is drawn for each tooth from spreads that are assumed, as are the
 * constants where no source is given. Units SI.
 */
public final class MeshedCircuit implements MeasuringCircuit {
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

  /** Width of the ligament, m: 0.15 to 0.38 mm in textbooks, from memory. */
  private static final double LIGAMENT_WIDTH = 0.2e-3;

  /**
   * Resistivity of spongy bone, Ω·m: 0.0214 S/m, Akhtari et al., Brain Topogr 2002, from memory.
   */
  private static final double BONE_RESISTIVITY = 47;

  /** So far from the axis of the root the bone is one with the body, m: assumed. */
  private static final double BONE_REACH = 12e-3;

  /** Share of the nominal resistance to the lip that is left beyond ligament and bone: assumed. */
  private static final double BODY_SHARE = 0.7;

  /** Corner of the way through the gingiva against that through the body: thinner; assumed. */
  private static final double GINGIVA_CORNER = 2;

  /** Share of their length over which the lanes are open to each other: assumed. */
  private static final double OPEN = 0.1;

  /** Share of the length of a leaning file that touches moist wall in air: assumed. */
  private static final double DRY_CONTACT = 0.02;

  /** What the grip of the file insulates, S: a teraohm, assumed. */
  private static final double INSULATION = 1e-12;

  /** Ways out beside the foramen. */
  private static final int CHANNELS = 2;

  /** Cells between two heights that must be nodes. */
  private static final int CELLS = 2;

  /** Heights above the tip up to which cells are shorter, m. */
  private static final double[] NEAR_TIP = {0.1e-3, 0.4e-3, 1.5e-3};

  /** Parts of the film on the crown. */
  private static final int FILM_PARTS = 4;

  // foramen, constriction, exudate, side canal, tip, level and orifice must be nodes
  private static final int MOST_CORNERS = 7 + CHANNELS + NEAR_TIP.length;
  private static final int MOST_CELLS = CELLS * (MOST_CORNERS - 1);

  private final Surroundings around;
  private final Canal canal;
  private final Bore bore;
  private final Instrument file;
  private final double innerScale;
  private final double slant;
  private final double capSiemens;
  private final double[] straySiemens;
  private final Admittances surface;
  private final Admittances body;
  private final Admittances gingiva;
  private final double wideShare;
  private final double grading;
  private final double[] channelHeight = new double[CHANNELS];
  private final double[] channelSiemens = new double[CHANNELS];

  // the place solved last: cells from the foramen up, what is at nodes, and the chamber
  private final double[] corner = new double[MOST_CORNERS];
  private final double[] wide = new double[MOST_CELLS];
  private final double[] narrow = new double[MOST_CELLS];
  private final double[] across = new double[MOST_CELLS];
  private final double[] wall = new double[MOST_CELLS];
  private final double[] metal = new double[MOST_CELLS];
  private final double[] dry = new double[MOST_CELLS];
  private final double[] ligament = new double[MOST_CELLS];
  private final double[] bone = new double[MOST_CELLS];
  private final double[] wayOut = new double[MOST_CELLS + 1];
  private int cells;
  private int tipNode;
  private double tipMetal;
  private double accessSiemens;
  private double depth;
  private double shankMetal;

  private final StarMesh mesh = new StarMesh(NODES);
  private final double[] re;
  private final double[] im;

  /**
   * The tooth of a scene by this network.
   *
   * @param around what surrounds and fills the canal
   * @param canal the canal
   * @param bore its hollow, which may be widened later
   * @param file the file
   * @param hertz measuring frequencies, Hz
   * @param strayFarads capacitance of the measuring cable, F
   * @param random what the scene does not tell is drawn from it
   */
  public MeshedCircuit(
      Surroundings around,
      Canal canal,
      Bore bore,
      Instrument file,
      double[] hertz,
      double strayFarads,
      RandomStream random) {
    this.around = around;
    this.canal = canal;
    this.bore = bore;
    this.file = file;
    innerScale = StrictMath.sqrt(file.solidFraction());
    slant = StrictMath.sqrt(1 + file.slope() * file.slope());
    capSiemens = 2 * Math.PI * outerRadius(0) / BONE_RESISTIVITY;
    // a thin ring about an axis off by a share e of its width: the wider half has 1/2 + e/π of it
    wideShare = 0.5 + random.nextBetween(0.5, 1) / Math.PI;
    // logarithm of how much better the wall conducts at the orifice than at the apex, where tubules
    // are fewer and closed: Mjör & Nordahl, Arch Oral Biol 1996;41:401, from memory
    grading = StrictMath.log(logBetween(random, 2, 8));
    for (int i = 0; i < CHANNELS; i++) {
      channelHeight[i] = random.nextBetween(0.4e-3, 1.6e-3);
      double length = random.nextBetween(0.8e-3, 2e-3);
      double radius = 0.5 * logBetween(random, 0.06e-3, 0.15e-3);
      channelSiemens[i] =
          1
              / (Resistances.frustum(around.fluidResistivity(), length, radius, radius)
                  + Resistances.halfSpheroid(canal.tissueResistivity(), radius, 0));
    }
    int n = hertz.length;
    straySiemens = new double[n];
    surface = new Admittances(n);
    body = new Admittances(n);
    gingiva = new Admittances(n);
    re = new double[n];
    im = new double[n];
    double oxide = random.nextBetween(0.3, 0.6);
    // a film that the turning file scratches to one that is whole
    double oxideLeak = logBetween(random, 0.005, 0.5);
    double throughGingiva = random.nextBetween(0.2, 0.4);
    for (int f = 0; f < n; f++) {
      straySiemens[f] = 2 * Math.PI * hertz[f] * strayFarads;
      metal(f, 2 * Math.PI * hertz[f], oxide, oxideLeak);
      way(body, f, hertz[f], 1 - throughGingiva, 1);
      way(gingiva, f, hertz[f], throughGingiva, GINGIVA_CORNER);
    }
  }

  private static double logBetween(RandomStream random, double low, double high) {
    return low * StrictMath.pow(high / low, random.nextDouble());
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
    double farads = file.interfaceMagnitude() * StrictMath.pow(OMEGA_1_KHZ, exponent - 1) / oxide;
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

  /** One of the ways to the lip electrode that lie side by side, by its share of the current. */
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

  /** Radius of the root, which cutting does not change, m. */
  private double outerRadius(double z) {
    return canal.constrictionRadius()
        + canal.slope() * Math.max(0, z - canal.constriction())
        + canal.wall();
  }

  @Override
  public void solve(double remaining, double level) {
    build(remaining, level);
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

  /** Works out what holds at every frequency. */
  private void build(double remaining, double level) {
    double top = Math.min(level, canal.length());
    double tip = Math.max(0, Math.min(remaining, canal.length()));
    double protrusion = Math.max(0, -remaining);
    boolean wet = remaining <= level;
    accessSiemens =
        1 / Resistances.halfSpheroid(canal.tissueResistivity(), canal.foramenRadius(), protrusion);
    tipMetal = 0;
    if (wet) {
      tipMetal = Math.PI * file.tipRadius() * file.tipRadius() + lateral(0, protrusion);
    }
    depth = level - canal.length();
    shankMetal = 0;
    if (wet && depth > 0) {
      shankMetal = lateral(Math.max(0, canal.length() - remaining), level - remaining);
    }
    int corners = corners(tip, top);
    cells = 0;
    Arrays.fill(wayOut, 0);
    tipNode = 0;
    for (int c = 1; c < corners; c++) {
      double low = corner[c - 1];
      double step = (corner[c] - low) / CELLS;
      if (step > 0) {
        for (int i = 0; i < CELLS; i++) {
          cell(low + i * step, i == CELLS - 1 ? corner[c] : low + (i + 1) * step, remaining, top);
        }
      }
      if (corner[c] == tip) {
        tipNode = cells;
      }
    }
  }

  /** Sorts the heights that must be nodes; how many they are. */
  private int corners(double tip, double top) {
    double length = canal.length();
    int n = 0;
    corner[n++] = 0;
    corner[n++] = Math.min(canal.constriction(), length);
    corner[n++] = Math.min(around.exudate(), length);
    corner[n++] = Math.min(around.sideCanal(), length);
    for (double height : channelHeight) {
      corner[n++] = Math.min(height, length);
    }
    corner[n++] = tip;
    for (double above : NEAR_TIP) {
      corner[n++] = Math.min(tip + above, length);
    }
    corner[n++] = top;
    corner[n++] = length;
    Arrays.sort(corner, 0, n);
    return n;
  }

  private void cell(double z1, double z2, double remaining, double top) {
    double length = z2 - z1;
    double middle = 0.5 * (z1 + z2);
    double a1 = bore.radius(z1);
    double a2 = bore.radius(z2);
    double outer = outerRadius(middle);
    double resistivity =
        middle < around.exudate() ? around.exudateResistivity() : around.fluidResistivity();
    double throughWall =
        2
            * Math.PI
            * length
            * StrictMath.exp(grading * (middle / canal.length() - 0.5))
            / (canal.wallResistivity() * StrictMath.log(outer / bore.radius(middle)));
    boolean beside = middle > remaining;
    boolean filled = middle < top;
    wide[cells] = 0;
    narrow[cells] = 0;
    across[cells] = 0;
    metal[cells] = 0;
    if (filled && beside) {
      double b1 = file.radius(z1 - remaining);
      double b2 = file.radius(z2 - remaining);
      // a file in its own cut fills the circle but for its flutes
      double o1 = Math.max(a1, b1);
      double o2 = Math.max(a2, b2);
      double siemens =
          1 / Resistances.annulus(resistivity, length, o1, o2, innerScale * b1, innerScale * b2);
      wide[cells] = wideShare * siemens;
      narrow[cells] = (1 - wideShare) * siemens;
      // from the middle of one lane to that of the other, half around the ring on either side
      double gap = 0.5 * (o1 + o2 - innerScale * (b1 + b2));
      double way = 0.5 * Math.PI * 0.5 * (o1 + o2 + innerScale * (b1 + b2));
      across[cells] = OPEN * 2 * gap * length / (resistivity * way);
      metal[cells] = lateral(z1 - remaining, z2 - remaining);
    } else if (filled) {
      wide[cells] = 1 / Resistances.frustum(resistivity, length, a1, a2);
    }
    wall[cells] = filled ? throughWall : 0;
    dry[cells] = beside && !filled ? DRY_CONTACT * throughWall : 0;
    ligament[cells] = 2 * Math.PI * outer * LIGAMENT_WIDTH / (canal.tissueResistivity() * length);
    bone[cells] = 2 * Math.PI * length / (BONE_RESISTIVITY * StrictMath.log(BONE_REACH / outer));
    cells++;
    if (z2 <= top) {
      for (int i = 0; i < CHANNELS; i++) {
        wayOut[cells] += z2 == channelHeight[i] ? channelSiemens[i] : 0;
      }
      wayOut[cells] += z2 == around.sideCanal() ? around.side() : 0;
    }
  }

  private double lateral(double from, double to) {
    return Math.PI * (file.radius(from) + file.radius(to)) * (to - from) * slant;
  }

  /**
   * Puts the network of the place solved last together, from the foramen up.
   *
   * @param f index of the frequency
   * @param joints what it is put together with
   */
  void assemble(int f, Joints joints) {
    joints.link(WIDE, LIGAMENT, accessSiemens, 0);
    joints.link(LIGAMENT, BODY, capSiemens, 0);
    at(0, f, joints);
    for (int i = 0; i < cells; i++) {
      boolean lanes = narrow[i] > 0;
      boolean begin = lanes && (i == 0 || narrow[i - 1] == 0);
      half(i, f, lanes && !begin ? NARROW : WIDE, joints);
      if (begin) {
        joints.link(NARROW, WIDE, narrow[i], 0);
      } else {
        joints.advance(NARROW, narrow[i]);
      }
      joints.advance(WIDE, wide[i]);
      joints.advance(LIGAMENT, ligament[i]);
      half(i, f, lanes ? NARROW : WIDE, joints);
      at(i + 1, f, joints);
    }
    if (depth > 0) {
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

  /** What stands at a node alone: the blunt tip, and ways out of the canal. */
  private void at(int node, int f, Joints joints) {
    if (node == tipNode) {
      touch(f, WIDE, tipMetal, joints);
    }
    if (wayOut[node] > 0) {
      joints.link(WIDE, LIGAMENT, wayOut[node], 0);
    }
  }

  /** Half of a cell's wall, metal and bone at one of its ends; half of that in either lane. */
  private void half(int i, int f, int lane, Joints joints) {
    joints.link(LIGAMENT, BODY, 0.5 * bone[i], 0);
    if (wide[i] > 0) {
      joints.link(WIDE, LIGAMENT, 0.25 * wall[i], 0);
      joints.link(lane, LIGAMENT, 0.25 * wall[i], 0);
    }
    if (metal[i] > 0) {
      touch(f, WIDE, 0.25 * metal[i], joints);
      touch(f, lane, 0.25 * metal[i], joints);
    }
    if (lane == NARROW) {
      joints.link(WIDE, NARROW, 0.5 * across[i], 0);
    }
    if (dry[i] > 0) {
      joints.link(FILE, LIGAMENT, 0.5 * dry[i], 0);
    }
  }

  private void touch(int f, int rail, double squareMetres, Joints joints) {
    joints.link(FILE, rail, squareMetres * surface.re(f), squareMetres * surface.im(f));
  }

  /**
   * Fluid in the chamber is one with both lanes. The crown leaks evenly over its height into a film
   * that leads to the gingiva, as good as the lip electrode; a full chamber runs over into its end.
   */
  private void chamber(int f, Joints joints) {
    joints.merge(NARROW, WIDE);
    touch(f, WIDE, shankMetal, joints);
    double part = around.overflow() * FILM_PARTS;
    double height = around.chamberDepth() / FILM_PARTS;
    joints.link(FILM, GROUND, 2 * part, 0);
    for (int i = 0; i < FILM_PARTS; i++) {
      double above = depth - i * height;
      double wet = above < height ? Math.max(0, above) / height : 1;
      joints.link(FILM, WIDE, wet * around.leak() / FILM_PARTS, 0);
      joints.advance(FILM, i < FILM_PARTS - 1 ? part : 2 * part);
    }
    if (Surroundings.full(depth, around.chamberDepth())) {
      joints.merge(FILM, WIDE);
    } else {
      joints.advance(FILM, 0);
    }
  }

  @Override
  public double ohmsRe(int frequency) {
    return re[frequency];
  }

  @Override
  public double ohmsIm(int frequency) {
    return im[frequency];
  }
}
