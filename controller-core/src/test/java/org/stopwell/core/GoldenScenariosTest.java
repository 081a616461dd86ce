package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.SettingsException;

/**
 * What the controller says and remembers in a few days full of accidents, held fast. A change here
 * is not wrong by itself: it says that the controller now behaves differently, or keeps its state
 * differently, and that whoever changed it must have meant to.
 */
class GoldenScenariosTest {
  private static final Path HELD =
      Path.of("src", "test", "resources", "org", "stopwell", "core", "golden-scenarios.txt");

  @Test
  void theControllerBehavesAsItDid() throws SettingsException, IOException {
    StringBuilder now = new StringBuilder();
    for (Scenario scenario : Scenario.all()) {
      now.append(scenario.name).append(": ").append(scenario.outcome()).append('\n');
    }
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(HELD, now);
    }
    assertEquals(
        Files.readString(HELD),
        now.toString(),
        "the controller behaves differently; if that is meant, run with -Dstopwell.write=true");
  }
}
