package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

class StationTest {
  @Test
  void theExampleIsRight() throws PlanException {
    Source source = Source.of(Path.of("..", "..", "docs", "stations", "pi.yaml"));
    assertTrue(source.isStation());
    assertEquals("example", Station.read(source).name());
  }

  @Test
  void everyMistakeIsNamedAtItsLine() {
    String text =
        """
        station: 1
        name: rig
        colour: red
        pi:
          computer: pi3
          full_speed_rpm: 1000
          encoder_steps_per_turn: 64
          torque_per_amp_ncm: 1
          brake_gpio: 17
          pwm_hz: 1
        """;
    List<Mistake> mistakes =
        assertThrows(PlanException.class, () -> Station.read(new Source("rig.yaml", text)))
            .mistakes();
    assertEquals(
        List.of(
            "3 colour",
            "4 pi.current_full_scale_ma",
            "5 pi.computer",
            "9 pi.brake_gpio",
            "10 pi.pwm_hz"),
        mistakes.stream().map(m -> m.line() + " " + m.key()).toList());
  }
}
