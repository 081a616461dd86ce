package org.stopwell.core.trace;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.ByteBuffer;
import java.util.HexFormat;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.InputCheck;

class FrameCodecTest {

  @Test
  void theLayoutOfAnInputIsFixed() {
    ControllerInput in = new ControllerInput();
    in.sampleSequence = 1;
    in.sampleTimeNs = 2;
    in.linkAgeNs = 3;
    for (int i = 0; i < ControllerInput.MAX_FREQUENCIES; i++) {
      in.frequencyHz[i] = 0x10 + i;
      in.zRealMilliOhms[i] = 0x20 + i;
      in.zImagMilliOhms[i] = -1 - i;
    }
    in.distanceMicrons = -2;
    in.insertionMicrons = 5;
    in.speedMilliRpm = 6;
    in.torqueMicroNewtonMetres = 7;
    in.currentMilliAmps = 8;
    in.supplyMilliVolts = 9;
    in.positionKind = PositionKind.DISTANCE;
    in.frequencyCount = 4;
    in.stage = Stage.RECHECK;
    in.railed = true;
    in.demand = false;
    in.reset = true;
    ByteBuffer bytes = ByteBuffer.allocate(FrameCodec.INPUT_BYTES);
    FrameCodec.put(in, bytes);
    assertEquals(0, bytes.remaining());
    assertEquals(
        "0100000000000000"
            + "0200000000000000"
            + "0300000000000000"
            + "1000000020000000ffffffff"
            + "1100000021000000feffffff"
            + "1200000022000000fdffffff"
            + "1300000023000000fcffffff"
            + "feffffff05000000060000000700000008000000090000000204" // distance to frequency count
            + "0309",
        HexFormat.of().formatHex(bytes.array()));
  }

  @Test
  void theLayoutOfAnOutputIsFixed() {
    ControllerOutput out = new ControllerOutput();
    out.speedMilliRpm = 1;
    out.torqueLimitMicroNewtonMetres = 2;
    out.remainingMicrons = -1;
    out.drive = Drive.BACKWARD;
    out.state = State.LOCKED;
    out.trust = Trust.SURE;
    out.cause = Cause.FROZEN;
    out.reason = Reason.RESET;
    out.readingPresent = true;
    out.boundMicrons = 3;
    ByteBuffer bytes = ByteBuffer.allocate(FrameCodec.OUTPUT_BYTES);
    FrameCodec.put(out, bytes);
    assertEquals(0, bytes.remaining());
    assertEquals(
        "0100000002000000ffffffff03060207150103000000", HexFormat.of().formatHex(bytes.array()));
  }

  @Test
  void anOutputOfVersionOneIsStillReadAndStatesNoBound() {
    ByteBuffer bytes =
        ByteBuffer.wrap(HexFormat.of().parseHex("0100000002000000ffffffff030602071501"));
    ControllerOutput out = new ControllerOutput();
    out.boundMicrons = 7;
    FrameCodec.get(bytes, out, 1);
    assertEquals(FrameCodec.outputBytes(1), bytes.position());
    assertEquals(-1, out.remainingMicrons);
    assertTrue(out.readingPresent);
    assertEquals(0, out.boundMicrons);
  }

  @SuppressWarnings("NullAway") // what a bench from outside may leave in a frame
  @Test
  void aFrameThatNoBenchCanSendIsWrittenAsOneThatNoBenchCanSend() {
    for (int wrong : new int[] {-1, 5, 128, 255, 256, 260, Integer.MAX_VALUE, Integer.MIN_VALUE}) {
      ControllerInput in = new ControllerInput();
      in.frequencyCount = wrong;
      assertFalse(InputCheck.isPlausible(0, again(in)), "count " + wrong);
    }
    ControllerInput kindless = new ControllerInput();
    kindless.positionKind = null;
    assertFalse(InputCheck.isPlausible(0, again(kindless)));
    ControllerInput stageless = new ControllerInput();
    stageless.stage = null;
    assertFalse(InputCheck.isPlausible(0, again(stageless)));
    assertTrue(InputCheck.isPlausible(0, again(new ControllerInput())));
  }

  private static ControllerInput again(ControllerInput in) {
    ByteBuffer bytes = ByteBuffer.allocate(FrameCodec.INPUT_BYTES);
    FrameCodec.put(in, bytes);
    bytes.flip();
    ControllerInput read = new ControllerInput();
    FrameCodec.get(bytes, read);
    return read;
  }

  @Test
  void whatWasWrittenIsRead() {
    long seed = 20261124;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    byte[] written = new byte[FrameCodec.INPUT_BYTES + FrameCodec.OUTPUT_BYTES];
    byte[] again = new byte[written.length];
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    for (int i = 0; i < 1_000; i++) {
      random.nextBytes(written);
      codes(written, random);
      ByteBuffer from = ByteBuffer.wrap(written);
      FrameCodec.get(from, in);
      FrameCodec.get(from, out);
      ControllerInput inCopy = new ControllerInput();
      inCopy.copyFrom(in);
      ControllerOutput outCopy = new ControllerOutput();
      outCopy.copyFrom(out);
      ByteBuffer to = ByteBuffer.wrap(again);
      FrameCodec.put(inCopy, to);
      FrameCodec.put(outCopy, to);
      assertArrayEquals(written, again);
    }
  }

  /** Makes the bytes that hold codes hold known ones. */
  private static void codes(byte[] bytes, Random random) {
    int kind = FrameCodec.INPUT_BYTES - 4;
    bytes[kind] = (byte) random.nextInt(PositionKind.values().length);
    bytes[kind + 2] = (byte) random.nextInt(Stage.values().length);
    bytes[kind + 3] = (byte) random.nextInt(32);
    int drive = FrameCodec.INPUT_BYTES + 12;
    bytes[drive] = (byte) random.nextInt(Drive.values().length);
    bytes[drive + 1] = (byte) random.nextInt(State.values().length);
    bytes[drive + 2] = (byte) random.nextInt(Trust.values().length);
    bytes[drive + 3] = (byte) random.nextInt(Cause.values().length);
    bytes[drive + 4] = (byte) random.nextInt(Reason.values().length);
    bytes[drive + 5] = (byte) random.nextInt(2);
  }
}
