package org.stopwell.rig.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.lang.reflect.Array;
import java.lang.reflect.Field;
import java.lang.reflect.Modifier;
import java.util.Arrays;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Truth;

/** A field added to a frame and forgotten on the wire must not go unnoticed. */
class FrameFieldsTest {
  @Test
  void everyFieldOfACommandGoesOverTheWire() throws Exception {
    ControllerOutput sent = new ControllerOutput();
    fill(sent);
    Packet packet = new Packet().begin(Message.EXCHANGE, 1, 1);
    ExchangeFields.put(packet, 42, sent);
    ControllerOutput received = new ControllerOutput();
    ExchangeFields.get(overTheWire(packet), received);
    assertEquals(values(sent), values(received));
  }

  @Test
  void everyFieldOfAReadingAndOfTheTruthGoesOverTheWire() throws Exception {
    ControllerInput sent = new ControllerInput();
    Truth truth = new Truth();
    fill(sent);
    fill(truth);
    sent.frequencyCount = ControllerInput.MAX_FREQUENCIES;
    Packet packet = new Packet().begin(Message.READING, 1, 1);
    ReadingFields.put(packet, true, sent, truth);
    Packet arrived = overTheWire(packet);
    ControllerInput received = new ControllerInput();
    Truth receivedTruth = new Truth();
    ReadingFields.get(arrived, received);
    ReadingFields.get(arrived, receivedTruth);
    assertEquals(values(sent), values(received));
    assertEquals(values(truth), values(receivedTruth));
  }

  private static Packet overTheWire(Packet packet) {
    FrameWriter writer = new FrameWriter();
    FrameReader reader = new FrameReader();
    int length = writer.write(packet);
    for (int i = 0; i < length; i++) {
      reader.take(writer.bytes()[i]);
    }
    assertEquals(1, reader.counts().good());
    return reader.packet();
  }

  /** Gives every field a value of its own that is not the one it begins with. */
  private static void fill(Object frame) throws IllegalAccessException {
    int next = 1000;
    for (Field field : frame.getClass().getFields()) {
      if (Modifier.isStatic(field.getModifiers())) {
        continue;
      }
      next++;
      if (field.getType() == int.class) {
        field.setInt(frame, next);
      } else if (field.getType() == long.class) {
        field.setLong(frame, next * 1_000_000_007L);
      } else if (field.getType() == boolean.class) {
        field.setBoolean(frame, !field.getBoolean(frame));
      } else if (field.getType() == int[].class) {
        for (int i = 0; i < Array.getLength(field.get(frame)); i++) {
          Array.setInt(field.get(frame), i, next++);
        }
      } else {
        Object[] constants = field.getType().getEnumConstants();
        field.set(frame, constants[constants.length - 1]);
      }
    }
  }

  private static Map<String, String> values(Object frame) throws IllegalAccessException {
    Map<String, String> values = new TreeMap<>();
    for (Field field : frame.getClass().getFields()) {
      if (!Modifier.isStatic(field.getModifiers())) {
        Object value = field.get(frame);
        values.put(
            field.getName(),
            value instanceof int[] many ? Arrays.toString(many) : String.valueOf(value));
      }
    }
    return values;
  }
}
