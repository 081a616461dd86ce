package org.stopwell.rig.physics.canal;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.number.Elementary;
import org.stopwell.rig.physics.file.Instrument;

/**
 * A tooth: file, fluid, dentine, foramen, tissue and chamber as a ladder of nodes.
 *
 * <p>The file is one conductor. Its surface is a constant-phase element per area. Fluid below the
 * tip is a column, fluid beside the file a ring; both lose current through the dentine. At the
 * foramen the current spreads into tissue. What comes through foramen and dentine flows through the
 * body to the lip clip, a Cole element. Fluid in the chamber reaches the lip through the chamber
 * wall, and through a film once the chamber overflows. A film on the wall above the fluid leads
 * from there to the wall of the chamber; a plug at the orifice is one more node. Nodes are close to
 * each other near the tip, where the current leaves the metal, and further apart away from it.
 */
public final class ToothCircuit extends SolvedCircuit {
  private static final int MOST_NODES = 96;

  /** Distance of the first node above the tip, m. */
  private static final double FINEST = 10e-6;

  /** Growth of the distance from node to node above the tip. */
  private static final double GROWTH = 1.35;

  /** Greatest distance between nodes, m. */
  private static final double COARSEST = 0.75e-3;

  /** Parts of a plug over which its wall is added up. */
  private static final int PLUG_PARTS = 8;

  /** From a file in air to the moist wall that it touches here and there, S/m: assumed. */
  public static final double DRY_CONTACT = 6e-5;

  private final Canal canal;
  private final Bore bore;
  private final Dentine wall;
  private final Instrument file;
  private final FileWalk walk;
  private final Surroundings around;
  private final double[] straySiemens;
  private final Admittances surface;
  private final Admittances foot;
  private final Admittances body;
  private final Admittances throughFile;
  private final double discOhms;
  private final Outlet outlet = new Outlet();
  private final @Nullable Fragment fragment;
  private final Admittances aboveFragment;
  private boolean metalToMetal;
  private double dryContact;
  private double leak;
  private double filmShare;
  private double plugBottom = Double.POSITIVE_INFINITY;
  private double plugDepth;
  private double plugMetal;
  private double plugWall;
  private final int density;
  private final double growth;
  private final Ladder ladder;

  // Nodes below the tip, which stay while nothing is cut and the tip and the fluid are above them.
  private final double[] keptHeights;
  private int kept;
  private int keptCuts;

  /**
   * The tooth of a scene.
   *
   * @param around what surrounds and fills the canal
   * @param canal the canal
   * @param bore its hollow, which may be widened later
   * @param file the file
   * @param hertz measuring frequencies, Hz
   * @param strayFarads capacitance of the measuring cable, F
   * @param density how many times as many nodes as usual, from 1; to measure the error of spacing
   */
  public ToothCircuit(
      Surroundings around,
      Canal canal,
      Bore bore,
      Instrument file,
      double[] hertz,
      double strayFarads,
      int density) {
    super(hertz.length);
    this.density = density;
    growth = Elementary.pow(GROWTH, 1.0 / density);
    ladder = new Ladder(MOST_NODES * density);
    keptHeights = new double[MOST_NODES * density];
    this.canal = canal;
    this.bore = bore;
    wall = new Dentine(canal);
    this.file = file;
    walk = new FileWalk(file);
    this.around = around;
    discOhms = canal.spreadingOhms();
    int n = hertz.length;
    straySiemens = new double[n];
    surface = new Admittances(n);
    foot = new Admittances(n);
    body = new Admittances(n);
    throughFile = new Admittances(n);
    for (int i = 0; i < n; i++) {
      double w = 2 * Math.PI * hertz[i];
      PhaseElement metal = PhaseElement.of(file.interfaceMagnitude(), file.interfaceExponent(), w);
      surface.set(i, metal.siemensRe(), metal.siemensIm());
      Cole path =
          Cole.of(
              around.body(),
              around.body() * around.bodyHighShare(),
              around.bodyCorner(),
              around.bodyExponent(),
              hertz[i]);
      double size = 1 / (path.ohmsRe() * path.ohmsRe() + path.ohmsIm() * path.ohmsIm());
      body.set(i, path.ohmsRe() * size, -path.ohmsIm() * size);
      straySiemens[i] = w * strayFarads;
    }
    aboveFragment = new Admittances(n);
    fragment =
        around.fragmentTop() > 0
            ? new Fragment(around.fragment(), around.fragmentTop(), around, bore, wall, file)
            : null;
    if (fragment != null) {
      fragment.solve(1 / discOhms, surface, aboveFragment);
    }
  }

  /**
   * Puts a film on the wall between the fluid and the orifice. It wets the wall of the chamber as a
   * full chamber does: assumed.
   *
   * @param share share of the cross-section that is film; 0 is none
   */
  public void film(double share) {
    filmShare = share;
  }

  /**
   * Hangs a plug of fluid below the orifice for the next solutions. It is one node: its own
   * resistance is small beside those of metal, wall and leak.
   *
   * @param bottom height of its lower end above the foramen, m; infinite is none
   * @param depth depth of its fluid in the chamber, m
   */
  public void plug(double bottom, double depth) {
    plugBottom = bottom;
    plugDepth = depth;
  }

  @Override
  public void solve(double remaining, double level) {
    leak = 0;
    if (remaining > level) {
      ladder.clear(); // no metal in the fluid
    } else {
      build(remaining, level);
      if (filmShare > 0) {
        bridge(level);
      }
    }
    boolean hangs = plugBottom < canal.length() && remaining < canal.length() + plugDepth;
    if (hangs) {
      hang(remaining);
    }
    double protrusion = Math.max(0, -remaining);
    double accessOhms =
        protrusion == 0
            ? discOhms
            : Resistances.halfSpheroid(
                canal.tissueResistivity(), canal.foramenRadius(), protrusion);
    double dryTop = Math.min(canal.length(), plugBottom);
    double dryLength = Math.max(0, dryTop - Math.max(Math.max(remaining, level), 0));
    dryContact = remaining < canal.length() ? dryLength * DRY_CONTACT : 0;
    for (int i = 0; i < re.length; i++) {
      foot.set(i, 1 / accessOhms, 0);
    }
    boolean floating = fragment != null && !metalToMetal;
    ladder.solve(floating ? aboveFragment : foot, surface, throughFile);
    for (int i = 0; i < re.length; i++) {
      if (hangs) {
        outlet.solve(
            throughFile.re(i) + dryContact,
            throughFile.im(i),
            plugMetal * surface.re(i),
            plugMetal * surface.im(i),
            plugWall,
            0,
            leak,
            0,
            body.re(i),
            body.im(i));
      } else if (leak > 0) {
        outlet.solve(
            ladder.direct().re(i) + dryContact,
            ladder.direct().im(i),
            ladder.topFile().re(i),
            ladder.topFile().im(i),
            ladder.topGround().re(i),
            ladder.topGround().im(i),
            leak,
            0,
            body.re(i),
            body.im(i));
      } else {
        outlet.solve(
            throughFile.re(i) + dryContact,
            throughFile.im(i),
            0,
            0,
            0,
            0,
            0,
            0,
            body.re(i),
            body.im(i));
      }
      double y = outlet.siemensRe();
      double b = outlet.siemensIm() + straySiemens[i];
      double scale = 1 / (y * y + b * b);
      re[i] = y * scale;
      im[i] = -b * scale;
    }
  }

  /** Puts the nodes from the foramen up to the fluid level. */
  private void build(double remaining, double level) {
    double top = Math.min(level, canal.length());
    if (fragment != null && metalToMetal != fragment.touchedBy(remaining)) {
      metalToMetal = !metalToMetal;
      kept = 0;
    }
    double z = begin(remaining, top);
    int corner = 0;
    double coarsest = COARSEST / density;
    double step = FINEST / density;
    double end = fragment != null && metalToMetal ? fragment.bottom() : remaining;
    double graded = Math.max(end, 0) + step;
    while (z < top) {
      if (z < end) {
        keep(z);
      }
      while (corner < bore.points() && bore.height(corner) <= z) {
        corner++;
      }
      double next = lower(top, z + coarsest);
      if (corner < bore.points()) {
        next = lower(next, bore.height(corner));
      }
      next = before(around.exudate(), z, next);
      next = before(around.lateralCanal(), z, next);
      if (fragment != null) {
        next = before(fragment.bottom(), z, next);
        next = before(fragment.top(), z, next);
        next = before(remaining, z, next);
      }
      next = lower(next, z < end ? end : graded);
      cell(z, next, remaining, corner);
      z = next;
      if (z == around.lateralCanal()) {
        ladder.addToTop(around.side(), 0);
      }
      if (z == remaining) {
        ladder.addToTop(0, file.tipDisc());
      }
      if (fragment != null && metalToMetal) {
        ladder.addToTop(0, fragment.end(z));
      }
      if (z == graded) {
        step = lower(step * growth, coarsest);
        graded += step;
      }
    }
    if (level > canal.length()) {
      chamber(remaining, level - canal.length());
    }
  }

  /** Begins with the nodes that are still right, or with the foramen; the height of the last. */
  private double begin(double remaining, double top) {
    if (keptCuts != bore.cuts()) {
      kept = 0;
      keptCuts = bore.cuts();
    }
    while (kept > 0 && !(keptHeights[kept - 1] < remaining && keptHeights[kept - 1] < top)) {
      kept--;
    }
    if (kept > 0) {
      kept--;
      ladder.backTo(kept);
      return keptHeights[kept];
    }
    ladder.clear();
    ladder.add(0, 0, 0);
    if (fragment != null && !metalToMetal) {
      return fragment.top();
    }
    if (remaining <= 0) {
      ladder.addToTop(0, file.tipDisc() + file.surface(0, -remaining));
    }
    return 0;
  }

  /** The node added last stays right as long as the tip is above it. */
  private void keep(double height) {
    keptHeights[kept++] = height;
    ladder.mark();
  }

  /** The next node, or a height that must be one, whichever comes first. */
  private static double before(double height, double z, double next) {
    return z < height ? lower(next, height) : next;
  }

  /**
   * The lesser of two numbers that are numbers; Math.min would spend as long as the rest on NaN.
   */
  private static double lower(double a, double b) {
    return a < b ? a : b;
  }

  /** One cell: its resistance, and half of its leak and metal at each end. */
  private void cell(double z1, double z2, double remaining, int part) {
    double a1 = bore.between(part, z1);
    double a2 = bore.between(part, z2);
    double leak = 0.5 * (z2 - z1) * wall.perLength(0.5 * (a1 + a2), 0.5 * (z1 + z2));
    double resistivity = around.resistivity(z1);
    double metal = 0;
    double ohms;
    if (z1 >= remaining) {
      walk.begin(z1 - remaining);
      double b1 = walk.radius();
      double c1 = walk.core();
      metal = 0.5 * walk.up(z2 - remaining);
      double b2 = walk.radius();
      // a file in its own cut fills the circle but for its flutes
      ohms =
          Resistances.annulus(
              resistivity, z2 - z1, a1 > b1 ? a1 : b1, a2 > b2 ? a2 : b2, c1, walk.core());
    } else if (fragment != null && z1 >= fragment.bottom() && z1 < fragment.top()) {
      double b1 = fragment.core(a1);
      double b2 = fragment.core(a2);
      ohms = Resistances.annulus(resistivity, z2 - z1, a1, a2, b1, b2);
      metal = 0.5 * fragment.side(z1, z2);
    } else {
      ohms = Resistances.frustum(resistivity, z2 - z1, a1, a2);
    }
    ladder.addToTop(leak, metal);
    ladder.add(ohms, leak, metal);
  }

  /** Fluid in the chamber: the shank in it, and the ways from it to the lip. */
  private void chamber(double remaining, double depth) {
    double metal = 0;
    if (remaining < canal.length() + depth) {
      double from = Math.max(0, canal.length() - remaining);
      metal = file.surface(from, canal.length() + depth - remaining);
    }
    leak = leakFrom(depth);
    ladder.addToTop(0, metal);
  }

  /** Conductance from fluid of a depth in the chamber to the lip, S. */
  private double leakFrom(double depth) {
    double deep = around.chamberDepth();
    double side = deep == 0 ? around.leak() : around.leak() * Math.min(1, depth / deep);
    return around.throughCrown(depth)
        + (Surroundings.full(depth, deep) ? side + around.overflow() : side);
  }

  /** The film from the surface of the fluid up the wall, and from there through the chamber. */
  private void bridge(double level) {
    if (level >= canal.length()) {
      leak = Math.max(leak, around.leak());
      return;
    }
    double ohms = 1 / around.leak();
    double z = level;
    for (int i = 0; i < bore.points(); i++) {
      double next = bore.height(i);
      if (next > z) {
        ohms +=
            Resistances.frustum(
                around.fluidResistivity() / filmShare,
                next - z,
                bore.radius(z),
                bore.between(i, next));
        z = next;
      }
    }
    leak = 1 / ohms;
  }

  /** Metal and wall in the plug, and the ways from it to the lip. */
  private void hang(double remaining) {
    double length = canal.length();
    plugMetal =
        file.surface(Math.max(0, plugBottom - remaining), length + plugDepth - remaining)
            + (remaining >= plugBottom ? file.tipDisc() : 0);
    plugWall = 0;
    double step = (length - plugBottom) / PLUG_PARTS;
    for (int i = 0; i < PLUG_PARTS; i++) {
      double z = plugBottom + (i + 0.5) * step;
      plugWall += step * wall.perLength(bore.radius(z), z);
    }
    leak = plugDepth > 0 ? leakFrom(plugDepth) : 0;
  }

  /**
   * The ladder of the place solved last.
   *
   * @return its nodes, for a look from outside
   */
  public Ladder ladder() {
    return ladder;
  }

  /**
   * Admittance of the metal surface.
   *
   * @return S/m², per frequency; to be read only
   */
  public Admittances surface() {
    return surface;
  }

  /**
   * Admittance from the foramen into the tissue solved last.
   *
   * @return S, per frequency; to be read only
   */
  public Admittances foot() {
    return foot;
  }

  /**
   * Admittance from the tissue to the lip clip.
   *
   * @return S, per frequency; to be read only
   */
  public Admittances body() {
    return body;
  }

  /**
   * Conductance of the part of the file in air through the moist wall to the tissue, solved last.
   *
   * @return S
   */
  public double drySiemens() {
    return dryContact;
  }

  /**
   * Conductance from the fluid in the chamber to the lip clip, solved last.
   *
   * @return S
   */
  public double leakSiemens() {
    return leak;
  }

  /**
   * Share of the current that goes around the canal in the place solved last: through the leak of
   * the chamber, and not through tissue and body. Magnitudes, without the measuring cable.
   *
   * @param frequency index of the frequency
   * @return 0 to 1
   */
  public double leakShare(int frequency) {
    if (!(leak > 0)) {
      return 0;
    }
    boolean plug = plugBottom < canal.length();
    Admittances direct = plug ? throughFile : ladder.direct();
    return Outlet.leakShare(
        direct.re(frequency) + dryContact,
        direct.im(frequency),
        plug ? plugMetal * surface.re(frequency) : ladder.topFile().re(frequency),
        plug ? plugMetal * surface.im(frequency) : ladder.topFile().im(frequency),
        plug ? plugWall : ladder.topGround().re(frequency),
        plug ? 0 : ladder.topGround().im(frequency),
        leak,
        body.re(frequency),
        body.im(frequency));
  }

  /**
   * Susceptance of the measuring cable.
   *
   * @param frequency index of the frequency
   * @return S
   */
  public double straySiemensIm(int frequency) {
    return straySiemens[frequency];
  }
}
