package org.stopwell.rig.wire;

import java.util.LinkedHashMap;
import java.util.Map;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.rig.bench.Truth;

/** The worked examples of the protocol page. */
final class WireExamples {
  private static final int SESSION = 0x12345678;

  private WireExamples() {}

  static Map<String, Packet> all() {
    Map<String, Packet> all = new LinkedHashMap<>();
    all.put(
        "The host opens session 0x12345678: `HELLO`, sequence 1, `protocol` 6.",
        packet(Message.HELLO, 1).set(0, FrameWriter.PROTOCOL));
    all.put(
        "`MOUNT_VALUE`, sequence 3: `canal.length_mm` is 21.5 mm (`decimals` 3, `value` 21500, no"
            + " word).",
        mountValue());
    all.put(
        "`EXCHANGE`, sequence 60: up to 25 ms, forward at 300 rpm, at most 6000 µN·m (0.6 N·cm);"
            + " the controller is `TURNING` and reads 3214 µm, `SURE`.",
        exchange());
    all.put(
        "`READING`, sequence 60: what the board answers, with impedances at 500 Hz and 8000 Hz.",
        reading());
    all.put("`OK` to sequence 2.", packet(Message.OK, 2));
    return all;
  }

  private static Packet packet(Message message, int sequence) {
    return new Packet().begin(message, SESSION, sequence);
  }

  private static Packet mountValue() {
    Packet packet = packet(Message.MOUNT_VALUE, 3);
    new SceneFields.Value("canal.length_mm", 3, 21_500, "").put(packet);
    return packet;
  }

  private static Packet exchange() {
    ControllerOutput out = new ControllerOutput();
    out.drive = Drive.FORWARD;
    out.speedMilliRpm = 300_000;
    out.torqueLimitMicroNewtonMetres = 6000;
    out.state = State.TURNING;
    out.readingPresent = true;
    out.remainingMicrons = 3214;
    out.boundMicrons = 400;
    out.trust = Trust.SURE;
    out.reason = Reason.CANAL_ENTERED;
    Packet packet = packet(Message.EXCHANGE, 60);
    ExchangeFields.put(packet, 25_000_000, out);
    return packet;
  }

  private static Packet reading() {
    ControllerInput in = new ControllerInput();
    in.positionKind = PositionKind.IMPEDANCE;
    in.sampleSequence = 5;
    in.sampleTimeNs = 20_000_000;
    in.frequencyCount = 2;
    in.frequencyHz[0] = 500;
    in.frequencyHz[1] = 8000;
    in.zRealMilliOhms[0] = 8_123_000;
    in.zRealMilliOhms[1] = 6_011_000;
    in.zImagMilliOhms[0] = -1_944_000;
    in.zImagMilliOhms[1] = -388_000;
    in.speedMilliRpm = 299_100;
    in.torqueMicroNewtonMetres = 1240;
    in.currentMilliAmps = 86;
    in.supplyMilliVolts = 3600;
    Truth truth = new Truth();
    truth.timeNs = 25_000_000;
    truth.remainingMicrons = 3190;
    truth.speedMilliRpm = 299_120;
    truth.torqueMicroNewtonMetres = 1260;
    truth.fluidLevelMicrons = 14_200;
    Packet packet = packet(Message.READING, 60);
    ReadingFields.put(packet, false, in, truth);
    return packet;
  }
}
