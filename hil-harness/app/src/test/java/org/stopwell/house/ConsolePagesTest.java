package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.microsoft.playwright.Page;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.console.ConsoleServer;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.SampleRun;

/** The pages of the console: on a desk and a telephone, light and dark. */
class ConsolePagesTest extends BrowserTest {
  @TempDir Path dir;

  @Test
  void theListOfRunsCanBeReadByEveryone() throws Exception {
    try (RunFile half = RunFile.create(dir.resolve("half"), SampleRun.header(8, 2));
        RunFile whole = RunFile.create(dir.resolve("whole"), SampleRun.header(6, 0));
        ConsoleServer console = new ConsoleServer(dir, 0)) {
      for (int i = 0; i < 6; i++) {
        half.append(SampleRun.stop(i, i * 90 - 200), null);
        whole.append(SampleRun.stop(i, i * 90 - 200), null);
      }
      whole.finish("2026-01-02T04:00:00Z");
      Page page = open(console.address());
      page.waitForSelector("article");
      assertEquals(2, page.locator("article").count());
      inEveryLook(page, "console");
      page.navigate(console.address() + "calibration");
      page.waitForSelector("text=calibrate");
      inEveryLook(page, "calibration");
    }
  }
}
