package org.stopwell.rig.adversary;

import java.util.List;
import java.util.Random;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.StageParameters;

/** Plays a scenario against a controller: canal, motor and hand in steps of 5 ms. */
final class Run {
  /** Steps of one run: 9 s. */
  static final int STEPS = 1_800;

  private static final double STEP_S = Moment.STEP_NS * 1e-9;
  private static final int STEP_MS = (int) (Moment.STEP_NS / 1_000_000);

  /** The tip waits outside for this long, then is carried in as fast as this, µm/s. */
  private static final int OUTSIDE_MS = 300;

  private static final double CARRY = 8_000;

  /** How deep a file is carried that does not turn, µm short of the foramen. */
  private static final double PASSIVE = 2_500;

  private static final long LOCATOR_NS_MILLIHERTZ = 1_000_000_000_000L;

  /** Slower than this a file counts as standing, milli-rpm; as in the virtual bench. */
  private static final double TURNS = 9_550;

  /** Share of the way to the ordered speed that the motor goes in one step. */
  private static final double MOTOR = 0.25;

  /** A canal so wide that nothing holds the file back, µm per turn. */
  static final double FREE = Double.POSITIVE_INFINITY;

  /** Changes a frame before the controller sees it. */
  interface Spoiler {
    /** Changes the frame and tells the time of the step, ns. */
    long spoil(ControllerInput in, long nowNs);

    /** The controller has seen it. */
    default void stepped() {}
  }

  private final Setup setup;
  private final Spoiler spoiler;
  private final double micronsPerTurn;
  private final Scenario scenario;
  private final SignalBudget budget;
  private final Random noise;
  private final Moment moment;
  private final int torqueLimit;
  private final double unwettedMilliOhms;
  private final long samplePeriodNs;
  private final int stepMicrons;

  /** Delay until the hand feels that the motor has stopped or started, ms. */
  private final int reactionMs;

  private double speedMilliRpm;
  private double remaining = Canal.SHALLOWEST - 100;
  private int sinceTurnMs;
  private boolean feelsTurning;
  private boolean everFelt;
  private int inFeedMs;
  private int inRestMs;
  private int stopMs = -1;
  private int nowMs;
  private double drift;
  private long nextSampleNs;
  private long silentSinceNs = -1;
  private int sequence;

  Run(Setup setup, Scenario scenario) {
    this(setup, scenario, handReactionMs(setup), FREE, (in, nowNs) -> nowNs);
  }

  /**
   * A run outside of the budget.
   *
   * @param handReactionMs how late the hand answers, ms
   * @param micronsPerTurn how far a file advances in a turn, where it must cut its way, µm
   * @param spoiler what it does to every frame
   */
  Run(Setup setup, Scenario scenario, int handReactionMs, double micronsPerTurn, Spoiler spoiler) {
    this.setup = setup;
    this.scenario = scenario;
    this.spoiler = spoiler;
    this.micronsPerTurn = micronsPerTurn;
    reactionMs = handReactionMs;
    budget = SignalBudget.of(setup.settings());
    noise = new Random(scenario.seed());
    StopController controller = setup.controller();
    moment = new Moment(controller);
    var stage = setup.settings().stage(setup.stage());
    torqueLimit = stage.getInt(StageParameters.TORQUE);
    ParameterValues sense = setup.settings().section("sense");
    unwettedMilliOhms = sense.get(SenseParameters.UNWETTED);
    stepMicrons = sense.getInt(SenseParameters.LOCATOR_STEP);
    samplePeriodNs =
        setup.policy() == Policy.LOCATOR
            ? LOCATOR_NS_MILLIHERTZ / sense.get(SenseParameters.LOCATOR_RATE)
            : Moment.STEP_NS;
  }

  /** The hand's share of the reaction that the settings expect: motor and signal take the rest. */
  static int handReactionMs(Setup setup) {
    return (int) (setup.settings().stage(setup.stage()).get(StageParameters.REACTION) / 1_000_000)
        - MOTOR_MS;
  }

  /** Until a stopped motor stands, and until its order and its sample are through, ms. */
  static final int MOTOR_MS = 60;

  /** Plays it to its end; every check sees every step. */
  void play(List<? extends Check> checks) {
    for (int step = 0; step < STEPS; step++) {
      nowMs = step * STEP_MS;
      moment.nowNs = step * Moment.STEP_NS;
      move();
      fill(moment.in);
      moment.remaining = remaining;
      moment.before = moment.out.state;
      boolean drove = moment.drove();
      moment.nowNs = spoiler.spoil(moment.in, step * Moment.STEP_NS);
      moment.controller.step(moment.nowNs, moment.in, moment.out);
      spoiler.stepped();
      double stated = moment.controller.standardErrorMicrons();
      moment.statedMicrons = stated > 0 ? stated : moment.statedMicrons;
      if (stopMs < 0 && drove && !moment.drives()) {
        stopMs = nowMs;
      }
      for (Check check : checks) {
        check.see(moment);
      }
    }
  }

  private void move() {
    double ordered =
        switch (moment.out.drive) {
          case FORWARD -> moment.out.speedMilliRpm;
          case BACKWARD -> -moment.out.speedMilliRpm;
          default -> 0;
        };
    speedMilliRpm += MOTOR * (ordered - speedMilliRpm);
    // Strokes are work, turning backwards in answer to something is not.
    boolean turns = moment.drives() ? Math.abs(speedMilliRpm) > TURNS : speedMilliRpm > TURNS;
    sinceTurnMs = turns == feelsTurning ? 0 : sinceTurnMs + STEP_MS;
    if (sinceTurnMs > reactionMs) {
      feelsTurning = turns;
      everFelt |= turns;
      inRestMs = 0;
      sinceTurnMs = 0;
    }
    moment.feeding = feelsTurning || !everFelt;
    double micronsPerSecond;
    if (!everFelt) {
      boolean carries = nowMs >= OUTSIDE_MS && remaining > PASSIVE;
      micronsPerSecond = carries ? CARRY : 0;
    } else if (feelsTurning) {
      micronsPerSecond = speedOf(scenario.feed(), inFeedMs, true);
      inFeedMs += STEP_MS;
    } else {
      micronsPerSecond = speedOf(scenario.rest(), inRestMs, false);
      inRestMs += STEP_MS;
    }
    double most = micronsPerTurn * Math.abs(speedMilliRpm) / 60_000;
    remaining -= Math.min(micronsPerSecond, everFelt ? most : CARRY) * STEP_S;
    remaining = Math.max(Canal.DEEPEST, Math.min(Canal.SHALLOWEST, remaining));
  }

  private static double speedOf(List<Move> moves, int atMs, boolean again) {
    int whole = 0;
    for (Move move : moves) {
      whole += move.forMs();
    }
    if (whole == 0 || (!again && atMs >= whole)) {
      return 0;
    }
    int left = atMs % whole;
    for (Move move : moves) {
      if (left < move.forMs()) {
        return move.micronsPerSecond();
      }
      left -= move.forMs();
    }
    return 0;
  }

  private void fill(ControllerInput in) {
    double bias = Double.NaN;
    double series = 0;
    double highGain = 1;
    double distance = 0;
    double torqueShare = 0.2;
    boolean dry = remaining > Canal.LEVEL;
    boolean silent = false;
    boolean sampling = true;
    in.demand = true;
    in.stopLine = false;
    in.reset = false;
    in.railed = false;
    in.insertionPresent = false;
    in.currentMilliAmps = 0;
    in.supplyMilliVolts = 0;
    for (int i = 0; i < scenario.troubles().size(); i++) {
      Trouble trouble = scenario.troubles().get(i);
      if (trouble.afterStop() && stopMs < 0) {
        continue;
      }
      int at = nowMs - (trouble.afterStop() ? stopMs : 0) - trouble.fromMs();
      if (at < 0 || at >= trouble.forMs()) {
        continue;
      }
      double size = trouble.size();
      moment.displaced |= trouble.kind().displaces();
      switch (trouble.kind()) {
        case BIAS -> bias = size;
        case SERIES -> series += size;
        case HIGH_GAIN -> highGain = size;
        case DISTANCE -> distance = size;
        case DRIFT -> {
          drift +=
              size
                  * (setup.policy().feelsOhms()
                      ? budget.driftOhmsPerSecond()
                      : budget.driftMicronsPerSecond())
                  * STEP_S;
          moment.displaced = true;
        }
        case DRY -> dry = true;
        case NO_SAMPLES -> sampling = false;
        case SILENT_LINK -> silent = true;
        case NO_DEMAND -> in.demand = false;
        case STOP_LINE -> in.stopLine = true;
        case RESET -> in.reset = true;
        case TORQUE -> torqueShare = size;
      }
    }
    if (silent) {
      silentSinceNs = silentSinceNs < 0 ? moment.nowNs - Moment.STEP_NS : silentSinceNs;
      in.linkAgeNs = moment.nowNs - silentSinceNs;
      return;
    }
    silentSinceNs = -1;
    in.linkAgeNs = 0;
    in.stage = setup.stage();
    in.speedMilliRpm = (int) speedMilliRpm;
    moment.torqueShare = moment.out.drive.turns() ? torqueShare : 0;
    in.torqueMicroNewtonMetres = (int) (moment.torqueShare * torqueLimit);
    if (sampling && moment.nowNs >= nextSampleNs) {
      nextSampleNs = moment.nowNs + samplePeriodNs;
      boolean ohms = setup.policy().feelsOhms();
      double moved = distance + (ohms ? 0 : drift);
      sample(in, bias, series + (ohms ? drift : 0), highGain, moved, dry);
      moment.seemsOut = seemsOut(in, dry);
    }
  }

  private void sample(
      ControllerInput in,
      double bias,
      double series,
      double highGain,
      double distance,
      boolean dry) {
    in.sampleSequence = ++sequence;
    in.sampleTimeNs = moment.nowNs;
    double place = remaining + budget.distanceNoiseMicrons() * noise(bias) + distance;
    if (setup.policy() == Policy.LOCATOR) {
      in.positionKind = dry ? PositionKind.NO_CONTACT : PositionKind.DISTANCE;
      in.frequencyCount = 0;
      in.distanceMicrons = dry ? 0 : (int) (stepMicrons * Math.rint(place / stepMicrons));
      return;
    }
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = setup.canal().hertz.length;
    double where = dry ? Canal.SHALLOWEST : place;
    for (int i = 0; i < in.frequencyCount; i++) {
      // A ratio is as noisy as one of its two magnitudes.
      boolean noisy = i > 0 || in.frequencyCount == 1;
      double gain = (noisy ? 1 + budget.featureNoise() * noise(bias) : 1) * (i > 0 ? highGain : 1);
      in.frequencyHz[i] = setup.canal().hertz[i];
      in.zRealMilliOhms[i] = milliOhms(gain * (setup.canal().ohms(where, i, false) + series));
      in.zImagMilliOhms[i] = milliOhms(gain * setup.canal().ohms(where, i, true));
    }
  }

  private boolean seemsOut(ControllerInput in, boolean dry) {
    double magnitude = StrictMath.hypot(in.zRealMilliOhms[0], in.zImagMilliOhms[0]);
    return setup.policy() == Policy.LOCATOR ? dry : magnitude >= unwettedMilliOhms;
  }

  private double noise(double bias) {
    double random = noise.nextGaussian();
    return Double.isNaN(bias)
        ? Math.max(-SignalBudget.SIGMAS, Math.min(SignalBudget.SIGMAS, random))
        : bias;
  }

  private static int milliOhms(double ohms) {
    return (int) Math.rint(1_000 * Math.max(-2e6, Math.min(2e6, ohms)));
  }
}
