package org.stopwell.rig.truth;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.number.Elementary;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.virtual.Specimen;
import org.stopwell.rig.wire.ReadingFields;

/**
 * Compares the true distance with the raw impedance of a network of resistors, which follows from
 * the place alone. A tooth has no such law, and there it compares nothing.
 */
final class NetworkCheck {
  /** A network and its front end may be off by so much together (assumed: beyond worn switches). */
  private static final double SHARE = 0.2;

  private static final double OHMS = 500;

  /** Above this a circuit is open: a broken lead says nothing about the truth, Ω. */
  private static final double OPEN_OHMS = 0.95e-3 * ReadingFields.OPEN_MILLI_OHMS;

  /** The place may be off by so much, µm; as after the mount. */
  private static final int PLACE_MICRONS = 2 * TruthCheck.START_MICRONS;

  /** A disagreement counts once it has lasted for so many samples, and so long, ns (assumed). */
  private static final int SAMPLES = 5;

  private static final long LASTS_NS = 100_000_000;

  /** Relays and links of a bench by the clock, ns (assumed). */
  private static final long CLOCK_NS = 40_000_000;

  private final @Nullable Specimen network;
  private final int lowestHz;
  private final double share;
  private final double sharePerNs;
  private final long windowNs;

  // The places of the last one to two windows, because a sample is older than the truth.
  private long windowEndNs;
  private int least;
  private int most;
  private int leastBefore;
  private int mostBefore;

  private long lastSample;
  private int against;
  private long againstSinceNs;

  private NetworkCheck(@Nullable Specimen network, ParameterValues frontEnd, boolean lockstep) {
    this.network = network;
    lowestHz = frontEnd.getInt(FrontEndSection.FREQUENCIES.get(0));
    share =
        SHARE
            + Math.abs(frontEnd.get(FrontEndSection.GAIN_ERROR)) * 1e-5
            + frontEnd.get(FrontEndSection.HUM) * 1e-5
            + 3
                * frontEnd.get(FrontEndSection.NOISE)
                * 1e-5
                * 1000
                / frontEnd.get(FrontEndSection.EXCITATION);
    sharePerNs = Math.abs(frontEnd.get(FrontEndSection.DRIFT)) * 1e-5 / 60e9;
    windowNs =
        1_000
                * (frontEnd.get(FrontEndSection.DELAY)
                    + 2 * frontEnd.get(FrontEndSection.SAMPLE)
                    + 5 * frontEnd.get(FrontEndSection.SETTLING))
            + (lockstep ? 0 : CLOCK_NS);
  }

  /** The check of a scene; one that compares nothing unless its canal is a network. */
  static NetworkCheck of(Scene scene, boolean lockstep, boolean compare) {
    return new NetworkCheck(
        compare && isNetwork(scene) ? new Specimen(scene) : null,
        scene.section("front_end"),
        lockstep);
  }

  /** Whether the impedance of a scene follows from the place alone. */
  static boolean isNetwork(Scene scene) {
    return CanalSection.kind(scene.section("canal")).isBuilt();
  }

  void begin(int microns) {
    least = microns;
    most = microns;
    leastBefore = microns;
    mostBefore = microns;
    windowEndNs = windowNs;
  }

  void look(long nowNs, ControllerInput in, int microns) throws BenchException {
    Specimen there = network;
    if (there == null) {
      return;
    }
    if (nowNs >= windowEndNs) {
      windowEndNs = nowNs + windowNs;
      leastBefore = least;
      mostBefore = most;
      least = microns;
      most = microns;
    }
    least = Math.min(least, microns);
    most = Math.max(most, microns);
    if (in.positionKind != PositionKind.IMPEDANCE
        || in.sampleSequence == lastSample
        || in.railed
        || !(in.frequencyCount >= 1 && in.frequencyCount <= ControllerInput.MAX_FREQUENCIES)
        || in.frequencyHz[0] != lowestHz
        || nowNs - in.sampleTimeNs > windowNs) {
      return;
    }
    lastSample = in.sampleSequence;
    double measured = Elementary.hypot(in.zRealMilliOhms[0], in.zImagMilliOhms[0]) * 1e-3;
    if (measured >= OPEN_OHMS) {
      return;
    }
    double near = ohms(there, Math.min(least, leastBefore) - PLACE_MICRONS);
    double far = ohms(there, Math.max(most, mostBefore) + PLACE_MICRONS);
    double off = share + sharePerNs * nowNs;
    if (measured >= Math.min(near, far) * (1 - off) - OHMS
        && measured <= Math.max(near, far) * (1 + off) + OHMS) {
      against = 0;
      return;
    }
    if (against++ == 0) {
      againstSinceNs = nowNs;
    }
    if (against >= SAMPLES && nowNs - againstSinceNs >= LASTS_NS) {
      throw TruthCheck.bad(
          "at "
              + TruthCheck.mm(microns)
              + " the network has "
              + Math.round(ohms(there, microns))
              + " Ω at "
              + lowestHz
              + " Hz, but the bench measures "
              + Math.round(measured)
              + " Ω, for "
              + (nowNs - againstSinceNs) / 1_000_000
              + " ms; limit "
              + Math.round(100 * off)
              + " % and "
              + Math.round(OHMS)
              + " Ω");
    }
  }

  private static double ohms(Specimen there, int microns) {
    MeasuringCircuit circuit = there.at(microns * 1e-6);
    return Elementary.hypot(circuit.ohmsRe(0), circuit.ohmsIm(0));
  }
}
