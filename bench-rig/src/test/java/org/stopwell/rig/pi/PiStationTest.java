package org.stopwell.rig.pi;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.BenchException;

class PiStationTest {
  private static final Map<String, String> MEASURED =
      Map.of(
          "current_full_scale_ma", "3300",
          "torque_per_amp_ncm", "1.5",
          "encoder_steps_per_turn", "64",
          "full_speed_rpm", "1000");

  private static Map<String, String> with(String key, String value) {
    Map<String, String> written = new HashMap<>(MEASURED);
    written.put(key, value);
    return written;
  }

  /** To write it anew: {@code -Dtest=PiStationTest -Dstopwell.write=true}. */
  @Test
  void the_page_holds_the_table_of_keys() throws Exception {
    StringBuilder table = new StringBuilder("<!-- generated: station -->\n\n");
    table.append(
        "| key | unit | range | default | meaning | source of the default |\n|---|---|---|---|---|---|\n");
    for (Parameter p : PiStation.TABLE.parameters()) {
      String range =
          p.choices().isEmpty()
              ? p.human(p.min()) + " to " + p.human(p.max())
              : String.join(" or ", p.choices());
      String value = p.required() ? "must be given" : p.human(p.defaultValue());
      table.append(
          "| `%s` | %s | %s | %s | %s | %s |\n"
              .formatted(p.key(), p.unit(), range, value, p.text(), p.source()));
    }
    table.append("\n<!-- end: station -->");
    Path page = Path.of("..", "docs", "build-a-bench.md");
    String text = Files.readString(page);
    int from = text.indexOf("<!-- generated: station -->");
    String end = "<!-- end: station -->";
    int to = text.indexOf(end) + end.length();
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(page, text.substring(0, from) + table + text.substring(to));
      return;
    }
    assertEquals(table.toString(), text.substring(from, to));
  }

  /** Copied by hand from the wiring of the page, so that a new table cannot change it. */
  @Test
  void the_defaults_are_those_of_the_wiring() throws Exception {
    assertEquals(
        "computer=pi5 enable_gpio=17 alive_gpio=27 direction_gpio=22 brake_gpio=23"
            + " stop_line_gpio=24 reset_gpio=25 encoder_a_gpio=5 encoder_b_gpio=6 pwm_channel=0"
            + " pwm_hz=20000 spi_bus=0 spi_select=0 spi_hz=1000000 current_channel=0"
            + " current_full_scale_ma=3300 torque_per_amp_ncm=1.5 idle_current_ma=0"
            + " encoder_steps_per_turn=64 full_speed_rpm=1000 stop_release_ms=100"
            + " watchdog_ms=100",
        PiStation.of(MEASURED).setup());
  }

  @Test
  void the_wiring_of_the_page_needs_only_what_must_be_measured() throws Exception {
    assertEquals(17, PiStation.of(MEASURED).enableGpio());
    assertEquals(15_000, PiStation.of(MEASURED).torqueMicroNewtonMetresPerAmp());
  }

  @Test
  void a_pin_used_twice_and_a_pin_of_the_bus_are_refused_together() {
    Map<String, String> written = with("brake_gpio", "17");
    written.put("reset_gpio", "10");
    List<Fault> faults =
        assertThrows(SettingsException.class, () -> PiStation.of(written)).faults();

    assertEquals(
        List.of(
            "brake_gpio: pin 17 is already used by enable_gpio",
            "reset_gpio: pin 10 is already used by PWM and SPI"),
        faults.stream().map(Fault::message).toList());
  }

  /** One table of addresses serves levels and PWM channels in the library: 0 to 3 would collide. */
  @Test
  void pins_below_4_are_refused() {
    assertThrows(SettingsException.class, () -> PiStation.of(with("enable_gpio", "2")));
  }

  @Test
  void nothing_runs_before_motor_and_encoder_were_measured() {
    List<Fault> faults =
        assertThrows(SettingsException.class, () -> PiStation.of(Map.of())).faults();
    assertEquals(4, faults.size(), faults.toString());
  }

  @Test
  void the_pwm_chip_is_found_by_its_device_under_whatever_number(@TempDir Path sys)
      throws Exception {
    Path device = Files.createDirectories(sys.resolve("devices/platform/1f00098000.pwm"));
    Path other = Files.createDirectories(sys.resolve("devices/platform/1f0009c000.pwm"));
    Path chips = Files.createDirectories(sys.resolve("class/pwm"));
    Files.createSymbolicLink(
        Files.createDirectory(chips.resolve("pwmchip0")).resolve("device"), other);
    Files.createSymbolicLink(
        Files.createDirectory(chips.resolve("pwmchip3")).resolve("device"), device);

    assertEquals(3, PwmChip.find(chips, PiStation.of(MEASURED).pwmDevice()));
    String pi4 = PiStation.of(with("computer", "pi4")).pwmDevice();
    BenchException e = assertThrows(BenchException.class, () -> PwmChip.find(chips, pi4));
    assertTrue(String.valueOf(e.getMessage()).contains("fe20c000.pwm"), e.getMessage());
  }
}
