package org.stopwell.house;

import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Playwright;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.extension.BeforeAllCallback;
import org.junit.jupiter.api.extension.ExtensionContext;

/**
 * Debian's Chromium without a window: started by the first test that needs it, ended after the
 * last.
 */
final class OneChromium implements BeforeAllCallback {
  /** No name but this machine's is found, and nothing asks a proxy. */
  private static final List<String> ARGUMENTS =
      List.of(
          "--disable-dev-shm-usage",
          "--no-proxy-server",
          "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost");

  private record Started(Playwright playwright, Browser browser) implements AutoCloseable {
    static Started now() {
      Playwright playwright =
          Playwright.create(
              new Playwright.CreateOptions()
                  .setEnv(
                      Map.of(
                          "PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD",
                          "1",
                          "PLAYWRIGHT_NODEJS_PATH",
                          tool("node"))));
      return new Started(
          playwright,
          playwright
              .chromium()
              .launch(
                  new BrowserType.LaunchOptions()
                      .setExecutablePath(Path.of(tool("chromium")))
                      .setArgs(ARGUMENTS)));
    }

    @Override
    public void close() {
      browser.close();
      playwright.close();
    }
  }

  private @Nullable Started started;

  @Override
  public void beforeAll(ExtensionContext context) {
    started =
        context
            .getRoot()
            .getStore(ExtensionContext.Namespace.GLOBAL)
            .computeIfAbsent(Started.class, key -> Started.now(), Started.class);
  }

  Browser browser() {
    return Objects.requireNonNull(started, "no test class is running").browser();
  }

  private static String tool(String name) {
    return Stream.of(System.getenv("PATH").split(":"))
        .map(directory -> Path.of(directory, name))
        .filter(Files::isExecutable)
        .findFirst()
        .orElseThrow(() -> new IllegalStateException(name + " is not installed"))
        .toString();
  }
}
