package org.stopwell.rig.wire;

import static org.stopwell.rig.wire.Message.EXCHANGE;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;

/** {@link Message#EXCHANGE} to and from the controller's output frame. */
public final class ExchangeFields {
  private static final int NOW = EXCHANGE.index("now_ns");
  private static final int DRIVE = EXCHANGE.index("drive");
  private static final int SPEED = EXCHANGE.index("speed_milli_rpm");
  private static final int TORQUE = EXCHANGE.index("torque_limit_micro_newton_metres");
  private static final int STATE = EXCHANGE.index("state");
  private static final int PRESENT = EXCHANGE.index("reading_present");
  private static final int REMAINING = EXCHANGE.index("remaining_microns");
  private static final int BOUND = EXCHANGE.index("bound_microns");
  private static final int TRUST = EXCHANGE.index("trust");
  private static final int CAUSE = EXCHANGE.index("cause");
  private static final int REASON = EXCHANGE.index("reason");

  private ExchangeFields() {}

  /**
   * Fills a packet that has begun as an exchange.
   *
   * @param packet receives the fields
   * @param nowNs time since the mount, ns
   * @param out the command
   */
  public static void put(Packet packet, long nowNs, ControllerOutput out) {
    packet
        .set(NOW, nowNs)
        .set(DRIVE, out.drive.code())
        .set(SPEED, out.speedMilliRpm)
        .set(TORQUE, out.torqueLimitMicroNewtonMetres)
        .set(STATE, out.state.code())
        .set(PRESENT, out.readingPresent)
        .set(REMAINING, out.remainingMicrons)
        .set(BOUND, out.boundMicrons)
        .set(TRUST, out.trust.code())
        .set(CAUSE, out.cause.code())
        .set(REASON, out.reason.code());
  }

  /**
   * The host's time in an exchange.
   *
   * @param packet an exchange
   * @return time since the mount, ns
   */
  public static long nowNs(Packet packet) {
    return packet.number(NOW);
  }

  /**
   * Reads the command of an exchange.
   *
   * @param packet an exchange
   * @param out overwritten
   */
  public static void get(Packet packet, ControllerOutput out) {
    out.drive = Drive.ofCode(packet.integer(DRIVE));
    out.speedMilliRpm = packet.integer(SPEED);
    out.torqueLimitMicroNewtonMetres = packet.integer(TORQUE);
    out.state = State.ofCode(packet.integer(STATE));
    out.readingPresent = packet.flag(PRESENT);
    out.remainingMicrons = packet.integer(REMAINING);
    out.boundMicrons = packet.integer(BOUND);
    out.trust = Trust.ofCode(packet.integer(TRUST));
    out.cause = Cause.ofCode(packet.integer(CAUSE));
    out.reason = Reason.ofCode(packet.integer(REASON));
  }
}
