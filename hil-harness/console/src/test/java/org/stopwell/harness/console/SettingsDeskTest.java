package org.stopwell.harness.console;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.trial.TestPlans;
import tools.jackson.jr.ob.JSON;

/** Settings are checked as by check, and written only where the console may write. */
class SettingsDeskTest {
  @TempDir Path dir;
  private Path file;
  private String text;
  private SettingsDesk desk;

  @BeforeEach
  void write() throws Exception {
    text = TestPlans.quick(1).settings().source().text();
    Path folder = Files.createDirectories(dir.resolve("settings"));
    file = Files.writeString(folder.resolve("mine.yaml"), text);
    desk = new SettingsDesk(folder, Policies.BUILT_IN);
  }

  private Reply post(String path, Map<String, Object> asked) throws IOException {
    return desk.post(path, JSON.std.asBytes(asked));
  }

  private static String body(Reply reply) {
    return new String(reply.body(), StandardCharsets.UTF_8);
  }

  private String hash() throws IOException {
    return String.valueOf(JSON.std.mapFrom(desk.state("mine.yaml").body()).get("hash"));
  }

  @Test
  void aMistakeIsNamedWithItsLineAsByCheck() throws IOException {
    Reply reply =
        post(
            "/settings/mine.yaml/check",
            Map.of("text", text, "section", "stages.length", "key", "standoff_mm", "value", "9"));
    assertEquals(200, reply.code());
    assertTrue(body(reply).contains("\"key\":\"stages.length.standoff_mm\""), body(reply));
    assertTrue(body(reply).contains("-1 to 3 mm"), body(reply));
    assertEquals(text, Files.readString(file), "a check writes nothing");
  }

  @Test
  void onlyValidSettingsThatThePageHasSeenAreSaved() throws IOException {
    String better = text.replace("standoff_mm: 0.5", "standoff_mm: 0.6");
    String worse = text.replace("standoff_mm: 0.5", "standoff_mm: 9");
    String hash = hash();
    assertEquals(409, post("/settings/mine.yaml/save", Map.of("text", worse, "hash", hash)).code());
    assertEquals(409, post("/settings/mine.yaml/save", Map.of("text", better)).code());
    assertEquals(text, Files.readString(file));
    assertEquals(
        200, post("/settings/mine.yaml/save", Map.of("text", better, "hash", hash)).code());
    assertEquals(better, Files.readString(file));
    assertEquals(
        409,
        post("/settings/mine.yaml/save", Map.of("text", text, "hash", hash)).code(),
        "the page shows what is no longer there");
  }

  @Test
  void theFileOfAStageIsShownAndCheckedLikeTheOthers() throws IOException {
    String card =
        text.replace(
            "  length:\n",
            """
              open:
                torque_ncm: 2
                file:
                  size: 35
                  taper: 0.08
              length:
            """);
    String body = body(post("/settings/mine.yaml/check", Map.of("text", card)));
    assertTrue(body.contains("\"name\":\"stages.open.file\""), body);
    assertTrue(body.contains("\"mistakes\":[]"), body);
    assertTrue(body.contains("open, size 35, taper 0.08: 2.00 N·cm"), body);
    String thin =
        body(
            post(
                "/settings/mine.yaml/check",
                Map.of("text", card, "section", "stages.open.file", "key", "size", "value", "20")));
    assertTrue(thin.contains("2 N·cm is above the strength of the file, "), thin);
  }

  @Test
  void nothingOutsideOfTheDirectoryIsReadOrWritten() throws IOException {
    Path outside = Files.writeString(dir.resolve("outside.yaml"), text);
    Files.createSymbolicLink(file.resolveSibling("link.yaml"), outside);
    for (String name : new String[] {"../outside.yaml", "link.yaml", "none.yaml", "", "."}) {
      assertEquals(404, desk.state(name).code(), name);
      assertEquals(404, post("/settings/" + name + "/save", Map.of("text", "")).code(), name);
    }
    assertEquals(text, Files.readString(outside));
    assertEquals(400, desk.post("/settings/mine.yaml/check", new byte[] {'x'}).code());
    assertTrue(SettingsDesk.NONE.names().isEmpty());
    assertFalse(body(SettingsDesk.NONE.list()).contains("mine.yaml"));
  }
}
