package org.stopwell.rig.virtual;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.LumpedCircuit;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.physics.canal.ResistorCircuit;
import org.stopwell.rig.physics.canal.ToothCircuit;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.physics.fluid.FluidColumn;

/**
 * What a scene clamps into the bench: a tooth with its fluid, or a resistor network, and a file.
 */
public final class Specimen {
  /** A file nearer to the wall than this touches it, m. */
  private static final double TOUCH = 1e-9;

  private final Canal canal;
  private final Bore bore;
  private final Instrument file;
  private final FluidColumn fluid;
  private final MeasuringCircuit circuit;
  private final boolean resistors;
  private double deepestCut = Double.POSITIVE_INFINITY;
  private double removal;
  private double packed;
  private boolean threaded;
  private final double dryingCubicMetresPerSecond;
  private final double meniscus;
  private double cuttingTorque;

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
    ParameterValues section = scene.section("canal");
    ParameterValues fluidSection = scene.section("fluid");
    ParameterValues frontEnd = scene.section("front_end");
    double[] hertz =
        FrontEndSection.FREQUENCIES.stream()
            .mapToDouble(frontEnd::get)
            .filter(hz -> hz != 0)
            .toArray();
    double stray = frontEnd.get(FrontEndSection.STRAY) * 1e-12;
    canal = Canal.of(section);
    bore = new Bore(canal);
    file = Instrument.of(scene.section("file"));
    dryingCubicMetresPerSecond = fluidSection.get(FluidSection.DRYING) * 1e-13;
    meniscus = fluidSection.get(FluidSection.MENISCUS) * 1e-6;
    fluid = FluidColumn.of(fluidSection, canal, bore, file);
    String kind = section.choice(CanalSection.KIND);
    resistors = kind.equals("resistors");
    circuit =
        switch (kind) {
          case "resistors" -> new ResistorCircuit(section, hertz, stray);
          case "lumped" ->
              new LumpedCircuit(section, canal, bore, file, fluidSection, hertz, stray);
          default ->
              new ToothCircuit(section, canal, bore, file, fluidSection, hertz, stray, density);
        };
  }

  /**
   * Orifice above foramen.
   *
   * @return length of the canal, m
   */
  public double length() {
    return canal.length();
  }

  /**
   * Moves the file by as much of a wanted distance as the canal allows. A file that does not turn
   * stops where the wall begins; a turning one advances no further per turn than it can cut.
   *
   * @param remaining height of the tip above the foramen, m
   * @param wanted distance towards the foramen, m; negative is out
   * @param turned angle turned in the cutting direction meanwhile, rad, not negative
   * @return the new height of the tip, m
   */
  double feed(double remaining, double wanted, double turned) {
    cuttingTorque = 0;
    if (resistors || wanted < 0) {
      return remaining - wanted;
    }
    if (bore.overlap(file, remaining - wanted) <= 0 && !pullsIn(remaining, turned)) {
      return remaining - wanted;
    }
    double pushed = wanted + turned * file.screwInPerRadian();
    double advance = Math.min(pushed, turned * file.advancePerRadian());
    double target = remaining - advance;
    if (target < deepestCut && target < remaining) {
      double from = Math.min(remaining, deepestCut);
      removal = bore.carve(file, target) / (from - target);
      deepestCut = target;
      packed = remaining > level() ? packed + from - target : 0;
    }
    double perRadian =
        turned > 0 ? Math.min(pushed / turned, file.advancePerRadian()) : file.advancePerRadian();
    double energy = file.cuttingEnergy() * (1 + file.debrisPerMetre() * packed);
    cuttingTorque = pushed > 0 ? energy * removal * perRadian : 0;
    return target;
  }

  /** A turning file that touches the wall pulls itself in, if its thread does. */
  private boolean pullsIn(double remaining, double turned) {
    return file.screwInPerRadian() > 0 && turned > 0 && bore.overlap(file, remaining) >= -TOUCH;
  }

  /**
   * Torque that the last feed asks for: cutting energy times volume per angle.
   *
   * @return N·m
   */
  double cuttingTorque() {
    return cuttingTorque;
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
    threaded = remaining <= level() || (threaded && remaining <= level() + meniscus);
    circuit.solve(remaining, threaded ? Math.max(level(), remaining) : level());
    return circuit;
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
   * Whether fluid stands in the chamber.
   *
   * @return true when current can leave around the canal
   */
  boolean chamberWet() {
    return level() > canal.length();
  }

  /**
   * Whether the tip closes the circuit.
   *
   * @param remaining height of the tip above the foramen, m
   * @return true in fluid, in tissue, or in a network
   */
  boolean closesCircuit(double remaining) {
    return remaining <= (resistors ? canal.length() : level());
  }
}
