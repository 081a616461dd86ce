package org.stopwell.rig.virtual;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.number.Elementary;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.hand.Feed;
import org.stopwell.rig.physics.hand.Hand;
import org.stopwell.rig.physics.motor.GearMotor;

/**
 * One mounted trial: tooth, file, motor, hand and front end, stepped together at {@value #TICK_NS}
 * ns. After the constructor nothing is allocated. What happens depends on the scene and the
 * commands alone.
 */
public final class Plant {
  /** Step of the models, ns. */
  public static final long TICK_NS = 1_000_000;

  /** The motor side cuts the power by itself after this silence of the host, ns. */
  public static final long WATCHDOG_NS = 100_000_000;

  private static final double TICK_S = TICK_NS * 1e-9;

  /** Slower than this a file counts as standing, as a hand would feel it: assumed, rad/s. */
  private static final double TURNING_RAD_PER_S = 1;

  /** The end of the travel past the foramen, m: assumed. */
  private static final double DEEPEST = -5e-3;

  private static final double TO_MILLI_RPM = 60_000 / (2 * Math.PI);

  private final Specimen specimen;
  private final Feed hand;
  private final GearMotor motor;
  private final FrontEnd frontEnd;
  private final long stopLineNs;
  private final boolean depthAxis;
  private final double depthStep;
  private Drive ordered = Drive.OFF;
  private int orderedMilliRpm;
  private int orderedMicroNewtonMetres;

  private long nowNs;
  private long heardNs;
  private double remaining;
  private boolean stopLine;
  private boolean powerCut;

  // What sensors show of the motor, and what is true of it, in whole units: worked out where it has
  // changed, which a motor at rest has not.
  private long motorChanges = -1;
  private int speedMilliRpm;
  private int torqueMicroNewtonMetres;
  private int currentMilliAmps;
  private int supplyMilliVolts;
  private int trueMilliRpm;
  private int trueMicroNewtonMetres;

  /**
   * Mounts a scene: the file is above the orifice, the motor is off, time is 0.
   *
   * @param scene what to mount
   */
  public Plant(Scene scene) {
    this(
        scene,
        new Hand(
            scene.section("hand"),
            Canal.of(scene.section("canal")).length(),
            scene.random("hand"),
            TICK_NS));
  }

  /**
   * Mounts a scene whose file somebody else moves.
   *
   * @param scene what to mount
   * @param hand who moves the file
   */
  public Plant(Scene scene, Feed hand) {
    specimen = new Specimen(scene);
    this.hand = hand;
    ParameterValues handSection = scene.section("hand");
    motor = GearMotor.of(scene.section("motor"), specimen.twistStiffness());
    frontEnd = new FrontEnd(scene.section("front_end"), scene.random("front_end"));
    long emergency = handSection.get(HandSection.EMERGENCY_STOP) * 1_000_000;
    stopLineNs = emergency == 0 ? Long.MAX_VALUE : emergency;
    depthAxis = HandSection.hasDepthAxis(handSection);
    depthStep = handSection.get(HandSection.DEPTH_STEP);
    remaining = hand.start();
    sampleIfDue();
  }

  /**
   * Lets everything go on to a time under a new command. A silence longer than the watchdog's
   * before that time ends in a motor without power.
   *
   * @param toNs time since the scene was mounted, ns, ascending; models stand at the last whole
   *     tick
   * @param order command to the motor since the last call
   */
  public void advance(long toNs, ControllerOutput order) {
    ordered = order.drive;
    orderedMilliRpm = Math.max(0, order.speedMilliRpm);
    orderedMicroNewtonMetres = order.torqueLimitMicroNewtonMetres;
    advance(toNs);
    heardNs = toNs;
  }

  /**
   * Lets everything go on to a time without having heard from the host.
   *
   * @param toNs time since the scene was mounted, ns, ascending
   */
  public void advance(long toNs) {
    while (nowNs + TICK_NS <= toNs) {
      tick();
    }
  }

  /**
   * Sets the surface of the fluid, as somebody who adds fluid or takes it away.
   *
   * @param level height of the surface above the foramen, m
   */
  public void fillTo(double level) {
    specimen.fillTo(level, remaining);
  }

  /**
   * What is clamped in.
   *
   * @return tooth, fluid and file, to be read only
   */
  public Specimen specimen() {
    return specimen;
  }

  /** Takes the power from the motor for the rest of the trial. */
  public void cutPower() {
    powerCut = true;
  }

  /** Time of the models, ns. */
  long nowNs() {
    return nowNs;
  }

  /** Height of the tip above the foramen, m. */
  double remaining() {
    return remaining;
  }

  /** Angle of the file at its shank, rad. */
  double shankRadians() {
    return motor.fileRadians();
  }

  private void tick() {
    stopLine = nowNs >= stopLineNs;
    boolean unpowered = powerCut || stopLine || nowNs - heardNs >= WATCHDOG_NS;
    double wanted = Math.min(hand.move(nowNs, remaining, rotation()), remaining - DEEPEST);
    specimen.pass(TICK_S);
    remaining = specimen.feed(remaining, wanted, motor.tipTurned());
    drive(unpowered ? Drive.OFF : ordered);
    remaining = specimen.wear(remaining, motor.fileTorque(), motor.tipTurned());
    nowNs += TICK_NS;
    sampleIfDue();
  }

  private int rotation() {
    double speed = motor.radPerS();
    return Math.abs(speed) > TURNING_RAD_PER_S ? (int) Math.signum(speed) : 0;
  }

  private void drive(Drive drive) {
    double friction = specimen.friction(remaining);
    motor.resist(friction + specimen.cuttingTorque(1), friction + specimen.cuttingTorque(-1));
    switch (drive) {
      case OFF -> motor.coast(TICK_S);
      case BRAKE -> motor.brake(TICK_S);
      case FORWARD -> turn(orderedMilliRpm);
      case BACKWARD -> turn(-orderedMilliRpm);
    }
  }

  private void turn(int milliRpm) {
    motor.turn(milliRpm / TO_MILLI_RPM, orderedMicroNewtonMetres * 1e-6, TICK_S);
  }

  private void sampleIfDue() {
    if (frontEnd.due(nowNs)) {
      frontEnd.sample(nowNs, specimen.at(remaining), remaining, specimen.closesCircuit(remaining));
    }
  }

  /**
   * Writes what the controller may know.
   *
   * @param in overwritten
   */
  public void read(ControllerInput in) {
    frontEnd.deliver(nowNs, in);
    lookAtMotor();
    in.speedMilliRpm = speedMilliRpm;
    in.torqueMicroNewtonMetres = torqueMicroNewtonMetres;
    in.currentMilliAmps = currentMilliAmps;
    in.supplyMilliVolts = supplyMilliVolts;
    in.insertionPresent = depthAxis;
    in.insertionMicrons = depthAxis ? insertionMicrons() : 0;
    in.demand = true;
    in.stopLine = stopLine;
    in.reset = false;
    in.linkAgeNs = 0;
  }

  private void lookAtMotor() {
    if (motorChanges == motor.changes()) {
      return;
    }
    motorChanges = motor.changes();
    speedMilliRpm = (int) Elementary.rint(motor.radPerS() * TO_MILLI_RPM);
    torqueMicroNewtonMetres = (int) Elementary.rint(motor.measuredTorque() * 1e6);
    currentMilliAmps = (int) Elementary.rint(motor.amperes() * 1e3);
    supplyMilliVolts = (int) Elementary.rint(motor.supplyVolts() * 1e3);
    trueMilliRpm = (int) Elementary.rint(motor.tipTurned() / TICK_S * TO_MILLI_RPM);
    trueMicroNewtonMetres = (int) Elementary.rint(motor.fileTorque() * 1e6);
  }

  /** Depth of the tip below the orifice as the axis counts it. */
  private int insertionMicrons() {
    double microns = (specimen.length() - remaining) * 1e6;
    return (int) (Elementary.rint(microns / depthStep) * depthStep);
  }

  /**
   * Writes what is really so.
   *
   * @param truth overwritten
   */
  public void truth(Truth truth) {
    specimen.settle(remaining);
    truth.timeNs = nowNs;
    truth.remainingMicrons = (int) Elementary.rint(remaining * 1e6);
    lookAtMotor();
    truth.speedMilliRpm = trueMilliRpm;
    truth.torqueMicroNewtonMetres = trueMicroNewtonMetres;
    truth.fluidLevelMicrons = (int) Elementary.rint(specimen.level() * 1e6);
    truth.chamberWet = specimen.chamberWet();
    truth.stopLine = stopLine;
    truth.file = specimen.condition();
  }
}
