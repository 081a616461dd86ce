package org.stopwell.rig.virtual;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalKind;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.network.ChainParts;
import org.stopwell.rig.physics.canal.Bend;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.ClipContact;
import org.stopwell.rig.physics.canal.LumpedCircuit;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.physics.canal.MeshedCircuit;
import org.stopwell.rig.physics.canal.ResistorCircuit;
import org.stopwell.rig.physics.canal.Straightening;
import org.stopwell.rig.physics.canal.Surroundings;
import org.stopwell.rig.physics.canal.ToothCircuit;
import org.stopwell.rig.physics.field.FieldTooth;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.physics.file.Metal;
import org.stopwell.rig.physics.file.Wear;
import org.stopwell.rig.physics.file.Wedge;
import org.stopwell.rig.physics.fluid.Capillarity;
import org.stopwell.rig.physics.fluid.FluidColumn;
import org.stopwell.rig.random.RandomStream;

/**
 * What a scene clamps into the bench: a tooth with its fluid, or a resistor network, and a file.
 */
public final class Specimen {
  /** A threaded file nearer to the wall than this bites, m. */
  private static final double TOUCH = 1e-9;

  /**
   * The flutes of a file engage in a wall that is no farther off than they have cut, m: assumed.
   */
  private static final double BITE = 10e-6;

  /** Angle from cutting edge to cutting edge, rad: three edges, assumed. */
  private static final double EDGE = 2 * Math.PI / 3;

  /** 1 where the flutes cut turning forward, -1 where they cut turning backward. */
  private final int flutes;

  private final Canal canal;
  private final Bore bore;
  private final Instrument file;
  private final Metal metal;
  private final Bend curve;
  private final boolean straightens;
  private final @Nullable Straightening straightening;
  private final Wear wear;
  private final Wedge wedge;
  private final double press;
  private final FluidColumn fluid;
  private final MeasuringCircuit circuit;
  private final MeasuringCircuit measured;
  private final @Nullable ToothCircuit tooth;
  private final boolean chips;
  private final boolean plug;
  private final boolean resistors;
  private double deepestCut = Double.POSITIVE_INFINITY;
  private double shortened;
  private double removal;
  private double packed;
  private double chip;
  private boolean threaded;
  private final double dryingCubicMetresPerSecond;
  private final double meniscus;
  private double cuttingTorque;

  /** No file goes below it: the stub of a broken one ends there, or a separated one lies there. */
  private double stub = Double.NEGATIVE_INFINITY;

  /**
   * The specimen of a scene, with the file out of it.
   *
   * @param scene what to clamp in
   */
  public Specimen(Scene scene) {
    this(scene, 1);
  }

  /**
   * The specimen of a scene with a finer network than usual.
   *
   * @param scene what to clamp in
   * @param density how many times as many nodes as usual, from 1
   */
  public Specimen(Scene scene, int density) {
    this(PlayedTooth.of(scene), density, true);
  }

  private Specimen(Scene scene, int density, boolean cable) {
    this(scene, density, CanalSection.kind(scene.section("canal")), cable);
  }

  /** The tooth that the canal of a scene would be, without the measuring cable. */
  static Specimen tooth(Scene scene) {
    return new Specimen(scene, 1, CanalKind.TOOTH, false);
  }

  private Specimen(Scene scene, int density, CanalKind kind, boolean cable) {
    ParameterValues section = scene.section("canal");
    ParameterValues fluidSection = scene.section("fluid");
    ParameterValues frontEnd = scene.section("front_end");
    double[] hertz = FrontEndSection.hertz(frontEnd);
    double stray = cable ? frontEnd.get(FrontEndSection.STRAY) * 1e-12 : 0;
    canal = Canal.of(section);
    bore = new Bore(canal);
    file = Instrument.of(scene.section("file"));
    metal = Metal.of(scene.section("file"));
    flutes = scene.section("file").choice(FileSection.FLUTES).equals(FileSection.LEFT) ? -1 : 1;
    curve = Bend.of(section);
    straightens = section.choice(CanalSection.STRAIGHTENS).equals(CanalSection.YES);
    straightening = straightens ? new Straightening(section, canal.length(), bore) : null;
    wear = new Wear(file, metal);
    wedge = new Wedge(file.slope(), metal.friction());
    press = scene.section("hand").get(HandSection.PRESS) * 1e-2;
    dryingCubicMetresPerSecond = fluidSection.get(FluidSection.DRYING) * 1e-13;
    meniscus = fluidSection.get(FluidSection.MENISCUS) * 1e-6;
    fluid = FluidColumn.of(fluidSection, canal, bore, file);
    resistors = kind.isBuilt();
    Surroundings around = Surroundings.of(section, fluidSection);
    if (around.fragmentTop() > 0) {
      stub = around.fragmentTop();
    }
    double clip = frontEnd.get(FrontEndSection.CLIP);
    circuit =
        switch (kind) {
          case RESISTORS -> new ResistorCircuit(section, hertz, stray);
          case NETWORK -> new NetworkCircuit(ToothSteps.of(scene), hertz, stray);
          case CHAIN -> new ChainCircuit(ToothChain.of(scene, ChainParts.NOMINAL), hertz);
          case LUMPED -> new LumpedCircuit(around, canal, bore, file, hertz, stray);
          case MESHED ->
              new MeshedCircuit(around, canal, bore, file, hertz, stray, scene.random("mesh"));
          case FIELD ->
              new FieldTooth(
                  canal,
                  around,
                  fluidSection,
                  file,
                  hertz,
                  stray,
                  RandomStream.of(PlayedTooth.anatomySeed(scene), "field"));
          case TOOTH -> new ToothCircuit(around, canal, bore, file, hertz, stray, density);
        };
    measured = clip == 0 ? circuit : new ClipContact(circuit, clip, hertz, stray);
    tooth = circuit instanceof ToothCircuit usual ? usual : null;
    chips = fluidSection.get(FluidSection.CHIPS) > 0;
    plug = fluidSection.get(FluidSection.PLUG) > 0;
    if (tooth != null) {
      double speed = fluidSection.get(FluidSection.FILM) * 1e-4;
      tooth.film(Capillarity.share(Capillarity.film(speed)));
    }
  }

  /**
   * Orifice above foramen, along the file: less what the canal has lost since the trial began.
   *
   * @return length of the canal, m
   */
  public double length() {
    return canal.length() - shortened;
  }

  /**
   * Moves the file by as much of a wanted distance as the canal allows. A file that does not turn
   * stops where the wall begins; a turning one advances no further per turn than it can cut, and
   * one that turns against its flutes is driven out where they engage. What the wall holds back,
   * the hand presses against it. Where the cut straightens a curve, the foramen comes nearer too.
   *
   * @param remaining height of the tip above the foramen, m
   * @param wanted distance towards the foramen, m; negative is out
   * @param turned angle turned meanwhile, rad, positive forward
   * @return the new height of the tip, m
   */
  double feed(double remaining, double wanted, double turned) {
    cuttingTorque = 0;
    double way = Math.min(wanted, remaining - stub);
    if (resistors || !whole()) {
      return remaining - way;
    }
    double along = flutes * turned;
    way -= drivenOut(remaining, along);
    double cutting = Math.max(0, along);
    boolean free = bore.overlap(file, remaining - way) <= 0 && !pullsIn(remaining, cutting);
    if (way < 0 || free) {
      cutChip(0, cutting);
      wedge.release(remaining - way, turned != 0);
      return remaining - way;
    }
    double pushed = way + cutting * file.screwInPerRadian();
    double advance = Math.min(pushed, cutting * file.advancePerRadian());
    double target = Math.max(remaining - advance, stub);
    if (target < deepestCut && target < remaining) {
      double from = Math.min(remaining, deepestCut);
      double cut = bore.carve(file, target);
      if (straightening != null) {
        // The file stays where it is, and the foramen comes nearer.
        double lost = straightening.shortening(bore) - shortened;
        if (lost > 0) {
          shortened += lost;
          target -= lost;
          cut += bore.carve(file, target);
        }
      }
      removal = cut / (from - target);
      if (chips) {
        fluid.addChips(cut);
      }
      deepestCut = target;
      packed = remaining > level() ? packed + from - target : 0;
    }
    cutChip(advance, cutting);
    cuttingTorque = file.cuttingEnergy() * (1 + file.debrisPerMetre() * packed) * removal * chip;
    if (pushed > advance) {
      wedge.press(
          press * (1 - advance / pushed),
          target,
          turned != 0,
          bore.leastTouch(file, target),
          bore.greatestTouch(file, target));
    } else {
      wedge.release(target, turned != 0);
    }
    return target;
  }

  /**
   * Takes up the advance per angle, which is how thick the chips get. An edge cuts what the edge
   * before it left standing, so the chip follows over the angle from edge to edge, and a file that
   * stands keeps the chip that it stands in.
   */
  private void cutChip(double advance, double turned) {
    if (turned == 0) {
      return;
    }
    chip += (advance - chip * turned) / (EDGE + turned);
  }

  /** How far the wall drives a file out that turns against its flutes, m. */
  private double drivenOut(double remaining, double along) {
    boolean engages = along < 0 && bore.overlap(file, remaining) >= -BITE;
    return engages ? -along * file.screwOutPerRadian() : 0;
  }

  /** A turning file that touches the wall pulls itself in, if its thread does. */
  private boolean pullsIn(double remaining, double cutting) {
    return file.screwInPerRadian() > 0 && cutting > 0 && bore.overlap(file, remaining) >= -TOUCH;
  }

  /**
   * Torque that the canal sets against turning back: friction, wedged or bent.
   *
   * @param remaining height of the tip above the foramen, m
   * @return N·m
   */
  double friction(double remaining) {
    return resistors || !whole() ? 0 : wedge.torque() + curve.friction(file, metal, remaining);
  }

  /**
   * Torque that the last feed asks for by cutting: energy times volume per angle.
   *
   * @param way 1 for turning forward, -1 for turning backward
   * @return N·m; 0 for the way in which the flutes do not cut
   */
  double cuttingTorque(int way) {
    return way == flutes ? cuttingTorque : 0;
  }

  /**
   * Torque per angle of twist of the file.
   *
   * @return N·m/rad
   */
  double twistStiffness() {
    return metal.twistStiffness(file);
  }

  /**
   * Uses the file up, until it breaks: what is left of it ends above the break, turns freely, and
   * goes no deeper.
   *
   * @param remaining height of the tip above the foramen, m
   * @param torque torque on the file, N·m
   * @param turned angle turned, rad, of either sign
   * @return height of the tip, m; that of the stub once the file has broken
   */
  double wear(double remaining, double torque, double turned) {
    if (resistors || !whole()) {
      return remaining;
    }
    wear.twist(torque);
    wear.bend(turned, curve.strain(file, remaining));
    stub =
        switch (wear.condition()) {
          case WHOLE -> stub;
          case TWISTED_OFF -> remaining + Wear.GRIP;
          case BENT_OFF -> curve.middle();
        };
    return Math.max(remaining, stub);
  }

  private boolean whole() {
    return wear.condition() == FileCondition.WHOLE;
  }

  /**
   * How the file is.
   *
   * @return whole, or what broke it
   */
  FileCondition condition() {
    return wear.condition();
  }

  /**
   * Lets the fluid follow the file.
   *
   * @param remaining height of the tip above the foramen, m
   */
  void settle(double remaining) {
    if (!resistors) {
      fluid.follow(remaining);
    }
  }

  /**
   * Lets the fluid follow the file and works out the impedance.
   *
   * @param remaining height of the tip above the foramen, m
   * @return the circuit, solved
   */
  public MeasuringCircuit at(double remaining) {
    settle(remaining);
    if (plug && tooth != null) {
      tooth.plug(fluid.plugBottom(), fluid.plugDepth());
    }
    threaded = remaining <= level() || (threaded && remaining <= level() + meniscus);
    measured.solve(remaining, threaded ? Math.max(level(), remaining) : level());
    return measured;
  }

  /**
   * Sets the surface of the fluid, as somebody who adds fluid or takes it away.
   *
   * @param level height of the surface above the foramen, m
   * @param remaining height of the tip above the foramen, m
   */
  void fillTo(double level, double remaining) {
    fluid.fillTo(level, remaining);
  }

  /**
   * The hollow of the canal as it is now.
   *
   * @return the hollow, to be read only
   */
  public Bore bore() {
    return bore;
  }

  /**
   * Share of the current that goes around the canal, at the lowest frequency, in the place looked
   * at last.
   *
   * @return 0 to 1; no number where no tooth of the usual network is clamped in
   */
  public double leakShare() {
    return tooth != null ? tooth.leakShare(0) : Double.NaN;
  }

  /**
   * Lets time pass: suction or air takes fluid away.
   *
   * @param seconds how long, s
   */
  void pass(double seconds) {
    if (dryingCubicMetresPerSecond > 0) {
      fluid.take(dryingCubicMetresPerSecond * seconds);
    }
  }

  /**
   * Fluid level above the foramen; 0 in a resistor network.
   *
   * @return level, m
   */
  public double level() {
    return resistors ? 0 : fluid.level();
  }

  /**
   * Whether there is fluid in the chamber.
   *
   * @return true when current can leave around the canal
   */
  boolean chamberWet() {
    return level() > canal.length() || (plug && fluid.plugDepth() > 0);
  }

  /**
   * Whether the tip closes the circuit.
   *
   * @param remaining height of the tip above the foramen, m
   * @return true in fluid, in tissue, or in a network
   */
  boolean closesCircuit(double remaining) {
    return remaining <= (resistors ? canal.length() : level()) || inPlug(remaining);
  }

  private boolean inPlug(double remaining) {
    return plug
        && remaining >= fluid.plugBottom()
        && remaining <= canal.length() + fluid.plugDepth();
  }
}
