package org.stopwell.rig.truth;

import java.math.BigDecimal;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.bench.HandMotion;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.physics.canal.Canal;

/**
 * Whether the truth of a bench can be true in one trial. Truth decides every verdict, so it must
 * not be trusted blindly: it must start where the scene starts, move no faster than whoever feeds
 * the file can, move when a machine feeds a turning file, agree with the depth axis, and on a
 * network of resistors agree with the raw impedance. It is never compared with what the controller
 * reads.
 *
 * <p>A bench whose file is fed by a model or by its own stage must follow the scene. Where a person
 * feeds it, start and pauses are the person's.
 */
public final class TruthCheck {
  /** The truth may differ by so much from where a scene starts, µm (assumed: as for a stage). */
  static final int START_MICRONS = 50;

  /** No file goes further past the foramen, µm; the end of the travel is at 5 mm (assumed). */
  private static final int DEEPEST_MICRONS = -6_000;

  /** No stage goes further above the foramen, µm (assumed: more than any stage has). */
  private static final int HIGHEST_MICRONS = 100_000;

  /** No motor of a file turns faster, milli-rpm (assumed). */
  private static final int FASTEST_MILLI_RPM = 100_000_000;

  /** A person's quickest pull, µm/s (assumed: 20 mm in a fifteenth of a second). */
  private static final double PERSON_MICRONS_PER_S = 300_000;

  /** What a thread that bites adds to the hand, µm/s (assumed: 1 mm a turn at 1200 rpm). */
  private static final double THREAD_MICRONS_PER_S = 20_000;

  /** Steps of an encoder, rounding, and the hand's change from pushing to drawing, µm (assumed). */
  private static final double STEP_MICRONS = 50;

  /** A bench by the clock may answer so much later once than the next time, ns (assumed). */
  private static final long JITTER_NS = 5_000_000;

  /** Slower than this a motor counts as resting, milli-rpm (assumed: as for the end of a trial). */
  private static final int REST_MILLI_RPM = 1_000;

  /** A machine feeds a turning file within this time, beyond its own reaction, ns (assumed). */
  private static final long FEEDS_WITHIN_NS = 1_000_000_000;

  /** Near the end of the travel a file can rest although it turns, µm (assumed). */
  private static final int END_MICRONS = -1_500;

  private final int lengthMicrons;
  private final int startMicrons;
  private final boolean machine;
  private final boolean simulated;
  private final boolean feeds;
  private final double micronsPerNs;
  private final long jitterNs;
  private final long feedsWithinNs;
  private final int depthStepMicrons;
  private final NetworkCheck network;

  private boolean looked;
  private long lastNs;
  private int lastMicrons;
  private int mountedMicrons;
  private boolean moved;
  private long standsSinceNs;
  private boolean depthKnown;
  private long depthSum;

  /**
   * A check of one trial.
   *
   * @param scene its scene
   * @param bench an open bench
   * @throws BenchException when the bench is not open
   */
  public TruthCheck(Scene scene, Bench bench) throws BenchException {
    ParameterValues hand = scene.section("hand");
    ParameterValues canal = scene.section("canal");
    HandMotion motion = HandSection.motion(hand);
    boolean stage = motion == HandMotion.STAGE;
    boolean lockstep = bench.describe().lockstep();
    simulated = bench.describe().simulated();
    machine = simulated || (stage && bench.drivenStage().isPresent());
    lengthMicrons = (int) Canal.lengthMicrons(canal);
    startMicrons = lengthMicrons + hand.getInt(HandSection.START_ABOVE);
    micronsPerNs = (machine ? speed(hand, motion) : PERSON_MICRONS_PER_S) * 1e-9;
    jitterNs = lockstep ? 0 : JITTER_NS;
    long reactionMs = stage ? 0 : hand.get(HandSection.REACTION);
    long pauseMs = motion == HandMotion.HESITATING ? hand.get(HandSection.HESITATION) : 0;
    feedsWithinNs = FEEDS_WITHIN_NS + (reactionMs + pauseMs) * 1_000_000;
    depthStepMicrons = hand.getInt(HandSection.DEPTH_STEP);
    network = NetworkCheck.of(scene, lockstep, !bench.altersReadings());
    // A wall can hold back a file in a tooth for as long as no hand trembles.
    feeds =
        machine && (NetworkCheck.isNetwork(scene) || (!stage && hand.get(HandSection.TREMOR) > 0));
  }

  /** Greatest speed of a sine over its root mean square and its rate in tenths of a Hz, 1/s. */
  private static final double TREMOR_PER_RMS = 2 * Math.PI * Math.sqrt(2) * 0.1;

  /** Twice the greatest speed that the hand of a scene reaches, and what a thread adds, µm/s. */
  private static double speed(ParameterValues hand, HandMotion motion) {
    double feed = hand.get(HandSection.FEED);
    double peck = motion == HandMotion.PECKING ? hand.get(HandSection.PECK_SPEED) : 0;
    double tremor =
        motion == HandMotion.STAGE
            ? 0
            : TREMOR_PER_RMS * hand.get(HandSection.TREMOR) * hand.get(HandSection.TREMOR_RATE);
    return 2 * (feed + peck + tremor) + THREAD_MICRONS_PER_S;
  }

  /**
   * Looks at the truth right after the mount.
   *
   * @param truth the bench's
   * @throws BenchException {@code BAD_TRUTH} when it cannot be
   */
  public void mounted(Truth truth) throws BenchException {
    range(truth);
    int off = truth.remainingMicrons - startMicrons;
    if (machine && Math.abs((long) off) > START_MICRONS) {
      throw bad(
          "after the mount it is "
              + mm(truth.remainingMicrons)
              + ", but the scene starts at "
              + mm(startMicrons)
              + "; limit ± "
              + mm(START_MICRONS));
    }
    lastMicrons = truth.remainingMicrons;
    mountedMicrons = truth.remainingMicrons;
    network.begin(truth.remainingMicrons);
  }

  /**
   * Looks at the truth after an exchange.
   *
   * @param nowNs time of the exchange, ns since the mount
   * @param command command to the motor
   * @param in what the bench measured, before any controller has seen it
   * @param truth the bench's
   * @throws BenchException {@code BAD_TRUTH} when it cannot be
   */
  public void look(long nowNs, ControllerOutput command, ControllerInput in, Truth truth)
      throws BenchException {
    range(truth);
    if (truth.file != FileCondition.WHOLE) {
      return; // what is left of a file that broke ends above the break
    }
    speed(nowNs, truth);
    stands(nowNs, command, truth);
    // The newest truth says nothing about a reading that did not get through.
    if (in.linkAgeNs == 0) {
      depth(in, truth);
      network.look(nowNs, in, truth.remainingMicrons);
    }
    lastNs = nowNs;
    lastMicrons = truth.remainingMicrons;
  }

  private static void range(Truth truth) throws BenchException {
    int microns = truth.remainingMicrons;
    if (!(microns >= DEEPEST_MICRONS && microns <= HIGHEST_MICRONS)) {
      throw bad(
          "it is "
              + mm(microns)
              + "; limits "
              + mm(DEEPEST_MICRONS)
              + " and "
              + mm(HIGHEST_MICRONS));
    }
    int speed = truth.speedMilliRpm;
    if (!(speed >= -FASTEST_MILLI_RPM && speed <= FASTEST_MILLI_RPM)) {
      throw bad(
          "the true speed is " + speed + " milli-rpm; limit ± " + FASTEST_MILLI_RPM + " milli-rpm");
    }
  }

  private void speed(long nowNs, Truth truth) throws BenchException {
    if (!looked && !machine) {
      looked = true; // a person may have moved the file since the mount
      return;
    }
    long way = Math.abs((long) truth.remainingMicrons - lastMicrons);
    double most = STEP_MICRONS + micronsPerNs * (nowNs - lastNs + jitterNs);
    if (way > most) {
      throw bad(
          "it went from "
              + mm(lastMicrons)
              + " to "
              + mm(truth.remainingMicrons)
              + " within "
              + (nowNs - lastNs) / 1_000
              + " µs; limit "
              + mm((int) most));
    }
  }

  private void stands(long nowNs, ControllerOutput command, Truth truth) throws BenchException {
    int microns = truth.remainingMicrons;
    moved |= microns != mountedMicrons;
    boolean within = !moved || (microns > END_MICRONS && microns < lengthMicrons);
    boolean fed =
        feeds
            && within
            && command.drive == Drive.FORWARD
            && truth.speedMilliRpm > REST_MILLI_RPM
            && microns == lastMicrons;
    if (!fed) {
      standsSinceNs = nowNs;
    } else if (nowNs - standsSinceNs > feedsWithinNs) {
      throw bad(
          "it stands at "
              + mm(microns)
              + " for "
              + (nowNs - standsSinceNs) / 1_000_000
              + " ms while a turning file is fed; limit "
              + feedsWithinNs / 1_000_000
              + " ms");
    }
  }

  private void depth(ControllerInput in, Truth truth) throws BenchException {
    if (!in.insertionPresent) {
      return;
    }
    long sum = (long) truth.remainingMicrons + in.insertionMicrons;
    if (!depthKnown) {
      depthKnown = true;
      depthSum = simulated ? lengthMicrons : sum;
    }
    double most = depthStepMicrons + 2 * STEP_MICRONS + micronsPerNs * (machine ? jitterNs : 0);
    if (Math.abs(sum - depthSum) > most) {
      throw bad(
          "it is "
              + mm(truth.remainingMicrons)
              + " at a depth of "
              + mm(in.insertionMicrons)
              + ", which makes "
              + mm(sum)
              + " and not "
              + mm(depthSum)
              + "; limit ± "
              + mm((long) most));
    }
  }

  static BenchException bad(String why) {
    return new BenchException(
        RigFault.BAD_TRUTH,
        "impossible true distance: "
            + why
            + "; check the encoder of the true distance and prove the bench again");
  }

  static String mm(long microns) {
    return BigDecimal.valueOf(microns, 3).toPlainString() + " mm";
  }
}
