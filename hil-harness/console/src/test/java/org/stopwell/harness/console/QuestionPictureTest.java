package org.stopwell.harness.console;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Every question of calibration, proof and extracted teeth has a picture of what to do. */
class QuestionPictureTest {
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          Press the emergency stop, and leave it pressed. | press_stop
          Release the emergency stop and press reset. Nothing may move. | release_stop
          The motor turns at 300 rpm now, 5 times: file in the air, hands away | motor
          mount 1: take the file out of its clamp and clamp it anew; then hands away | clamp
          From here on the stage moves by itself: path clear, hands away | clear
          The stage goes to its home switch, away from the tooth. Check that all is clear. | clear
          Take the meter off, plug the canal board in again and switch it on. | plug
          Resistor 3, as in calibration.h | meter
          Resistor 3, by the meter | meter
          How many capacitors does the canal board carry? 0 for none | count
          Set the stage to its stop with a gauge block between. Length of the block | block
          Take the block out and set the stage to its stop again. | block
          Put the lip clip into the medium, and the file clip on the file. | clips
          Mount tooth T1 in agar at 25.0 °C. | mount
          Tooth T1: fill the canal with saline 0.9 at 25.0 °C to 8 mm below the orifice, and dry the chamber. | fill
          Tooth T1: dry the canal and the chamber. | dry
          Move the stage until the tip touches the reference point. | touch
          Withdraw the file with the stage until its tip is above the tooth. | withdraw
          Go to 2 mm by the stage from outside. Indicator | indicator
          Room temperature | thermometer
          Reference instrument, maker and serial number | paper
          Its expanded uncertainty | paper
          Your operator code | person
          mount 1: move the stage out, and to about 2.0 mm short of the foramen. | stage
          """)
  void theQuestionHasItsPicture(String question, String picture) {
    assertEquals(picture, QuestionPicture.of(question));
  }

  @Test
  void everyPictureIsDrawn() throws Exception {
    try (InputStream in = QuestionPictureTest.class.getResourceAsStream("pictures.js")) {
      String drawn = new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8);
      for (QuestionPicture picture : QuestionPicture.values()) {
        String name = picture.name().toLowerCase(Locale.ROOT);
        assertTrue(drawn.contains("  " + name + ": { says: '"), name);
      }
    }
  }
}
