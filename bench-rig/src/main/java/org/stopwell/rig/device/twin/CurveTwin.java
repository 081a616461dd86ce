package org.stopwell.rig.device.twin;

import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.number.Elementary;

/**
 * A device with a curve of its own. It starts when the file touches the fluid, slows down near its
 * target, acts at the target after a delay, and turns again after a withdrawal.
 */
final class CurveTwin implements Twin {
  /** Impedance below which it takes the file for one in a canal, Ω: assumed. */
  private static final double CONTACT_OHMS = 60_000;

  /** So long it must be below before the motor starts, ns: assumed. */
  private static final long CONTACT_NS = 60_000_000;

  /** Withdrawal after which it turns again, µm: assumed. */
  private static final double REARM_MICRONS = 400;

  /** So long the withdrawal must last, ns: assumed. */
  private static final long REARM_NS = 100_000_000;

  private static final int TORQUE_MICRO_NEWTON_METRES = 6_000;

  private enum Phase {
    WAITING,
    TURNING,
    DECIDED,
    REVERSING,
    HOLDING
  }

  private final Traits traits;
  private @Nullable MakersCurve curve;
  private Phase phase = Phase.WAITING;
  private long sequence = -1;
  private double filtered = Double.NaN;
  private double reading;
  private boolean contact;
  private long sinceNs;
  private boolean counting;
  private long actNs;

  CurveTwin(Traits traits) {
    this.traits = traits;
  }

  @Override
  public Map<String, String> frontEnd() {
    Map<String, String> section = new LinkedHashMap<>();
    for (int i = 0; i < traits.hertz().size(); i++) {
      section.put("frequency_" + (i + 1) + "_hz", traits.hertz().get(i).toString());
    }
    for (int i = traits.hertz().size(); i < 4; i++) {
      section.put("frequency_" + (i + 1) + "_hz", "0");
    }
    section.put("sample_ms", Integer.toString(traits.sampleMs()));
    section.put("delay_ms", Integer.toString(traits.delayMs()));
    section.put("noise_percent", "0.05");
    return section;
  }

  @Override
  public void learn(MakersCurve makers) {
    curve = makers;
  }

  @Override
  public long lagNs() {
    double ms =
        traits.delayMs() + 0.5 * traits.sampleMs() + traits.filterMs() + traits.decisionMs();
    return Math.round(ms * 1e6);
  }

  private double feature(double[] ohms) {
    return ohms.length > 1 ? ohms[ohms.length - 1] / ohms[0] : ohms[0];
  }

  private void sense(ControllerInput in) {
    if (in.positionKind != PositionKind.IMPEDANCE || in.sampleSequence == sequence) {
      return;
    }
    sequence = in.sampleSequence;
    double[] ohms = new double[in.frequencyCount];
    for (int i = 0; i < ohms.length; i++) {
      ohms[i] = Elementary.hypot(in.zRealMilliOhms[i], in.zImagMilliOhms[i]) * 1e-3;
    }
    contact = ohms[0] < CONTACT_OHMS;
    if (!contact) {
      filtered = Double.NaN;
      return;
    }
    // A step of the filter by the sample period: the lag of a ramp is then the time constant.
    double share = (double) traits.sampleMs() / (traits.filterMs() + traits.sampleMs());
    double now = feature(ohms);
    filtered = Double.isNaN(filtered) ? now : filtered + share * (now - filtered);
    MakersCurve known = curve;
    reading = known == null ? 0 : known.distance(filtered, this::feature);
  }

  private boolean lasts(boolean so, long nowNs, long forNs) {
    if (!so) {
      counting = false;
      return false;
    }
    sinceNs = counting ? sinceNs : nowNs;
    counting = true;
    return nowNs - sinceNs >= forNs;
  }

  @Override
  public void step(long nowNs, ControllerInput in, ControllerOutput out) {
    sense(in);
    switch (phase) {
      case WAITING -> {
        boolean beyond = contact && reading > traits.targetMicrons();
        if (lasts(beyond, nowNs, CONTACT_NS)) {
          enter(Phase.TURNING);
        }
      }
      case TURNING -> {
        if (!contact) {
          enter(Phase.WAITING);
        } else if (reading <= traits.targetMicrons()) {
          actNs = nowNs + Math.round(traits.decisionMs() * 1e6);
          enter(Phase.DECIDED);
        }
      }
      case DECIDED, REVERSING, HOLDING -> {}
    }
    if (phase == Phase.DECIDED && nowNs >= actNs) {
      actNs = nowNs + traits.reverseMs() * 1_000_000L;
      enter(traits.reverseMs() > 0 ? Phase.REVERSING : Phase.HOLDING);
    } else if (phase == Phase.REVERSING && nowNs >= actNs) {
      enter(Phase.HOLDING);
    } else if (phase == Phase.HOLDING
        && lasts(contact && reading > traits.targetMicrons() + REARM_MICRONS, nowNs, REARM_NS)) {
      enter(Phase.TURNING);
    }
    out.clear();
    boolean eased = reading < traits.targetMicrons() + traits.easeMicrons();
    out.drive =
        switch (phase) {
          case TURNING, DECIDED -> Drive.FORWARD;
          case REVERSING -> Drive.BACKWARD;
          case WAITING -> Drive.OFF;
          case HOLDING -> traits.brakes() ? Drive.BRAKE : Drive.OFF;
        };
    out.speedMilliRpm =
        (phase == Phase.TURNING || phase == Phase.DECIDED) && eased
            ? (int) (traits.speedMilliRpm() * traits.easedShare())
            : traits.speedMilliRpm();
    out.torqueLimitMicroNewtonMetres = TORQUE_MICRO_NEWTON_METRES;
  }

  private void enter(Phase next) {
    phase = next;
    counting = false;
  }
}
