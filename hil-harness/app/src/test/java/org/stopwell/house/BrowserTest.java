package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.Media;
import com.microsoft.playwright.options.ReducedMotion;
import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.extension.RegisterExtension;

/**
 * A test of pages in Debian's Chromium. All such tests share one browser. Each test has a profile
 * of its own, and fails when a page asks another machine, throws an error or breaks its own policy.
 */
public abstract class BrowserTest {
  /** A screen on a desk and a telephone held upright, px. */
  protected static final int WIDE = 1300;

  /** A telephone held upright, px. */
  protected static final int PHONE = 390;

  private static final int HEIGHT = 900;

  /** A4 within margins of 10 mm, at 96 px for each inch. */
  private static final int PAPER = 718;

  /** Largest size of a picture in the documentation, bytes; assumed. */
  private static final int PICTURE = 150_000;

  /** A busy machine takes several times as long as a quiet one, ms. */
  private static final double PATIENCE = 120_000;

  /** Impacts of the accessibility checker that fail a test. */
  private static final Set<String> GRAVE = Set.of("serious", "critical");

  private static final Set<String> THIS_MACHINE = Set.of("127.0.0.1", "localhost", "[::1]");

  @RegisterExtension static final OneChromium CHROMIUM = new OneChromium();

  private final List<String> faults = new ArrayList<>();
  private @Nullable BrowserContext profile;

  /**
   * Opens a page on a desk, in the light scheme.
   *
   * @param address an address on this machine
   * @return the loaded page
   */
  protected final Page open(String address) {
    Page page = profile().newPage();
    page.navigate(address);
    return page;
  }

  /**
   * Opens a file on a desk, in the light scheme.
   *
   * @param file an HTML file
   * @return the loaded page
   */
  protected final Page open(Path file) {
    return open(file.toUri().toString());
  }

  /**
   * Shows a page on a desk in the light scheme, and on a telephone in the dark one: the schemes
   * have one layout, and the widths have the same colours. Each time it takes a picture, looks for
   * sideways scroll, and checks what a reader without eyes, mouse or colour vision needs.
   *
   * @param page an open page
   * @param name the first part of the names of the pictures
   */
  protected static void inEveryLook(Page page, String name) {
    look(page, WIDE, ColorScheme.LIGHT);
    check(page, name + "-desk");
    look(page, PHONE, ColorScheme.DARK);
    check(page, name + "-telephone");
    look(page, WIDE, ColorScheme.LIGHT);
  }

  private static void check(Page page, String name) {
    picture(page, name);
    noSidewaysScroll(page);
    accessible(page);
  }

  /**
   * Shows a page as it is printed on A4: light, nothing wider than the paper, no buttons.
   *
   * @param page an open page
   * @param name the name of the picture, without its ending
   */
  protected static void onPaper(Page page, String name) {
    page.emulateMedia(
        new Page.EmulateMediaOptions().setMedia(Media.PRINT).setColorScheme(ColorScheme.DARK));
    page.setViewportSize(PAPER, HEIGHT);
    picture(page, name);
    assertEquals(
        "rgb(255, 255, 255)",
        page.evaluate("getComputedStyle(document.documentElement).backgroundColor"));
    assertEquals(0, page.locator("button:visible").count());
    noSidewaysScroll(page);
    page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.SCREEN));
    look(page, WIDE, ColorScheme.LIGHT);
  }

  /**
   * Changes the width and the scheme of an open page.
   *
   * @param page the page
   * @param width its width, px
   * @param scheme light or dark
   */
  protected static void look(Page page, int width, ColorScheme scheme) {
    page.setViewportSize(width, HEIGHT);
    page.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(scheme));
  }

  /**
   * Takes a picture of the whole page, into {@code target/pictures}.
   *
   * @param page the page
   * @param name the name of the picture, without its ending
   */
  protected static void picture(Page page, String name) {
    page.screenshot(
        new Page.ScreenshotOptions()
            .setPath(Path.of("target", "pictures", name + ".png"))
            .setFullPage(true));
  }

  /**
   * Takes a picture for the documentation: what a reader sees first of the page. With {@code
   * -Dstopwell.write=true} it goes to {@code docs/pictures}; without, a picture must be there.
   *
   * @param page the page
   * @param name the name of the picture, without its ending
   * @throws IOException if the picture cannot be written or read
   */
  protected static void documented(Page page, String name) throws IOException {
    Path picture = Tree.root().resolve("docs/pictures/" + name + ".png");
    if (Boolean.getBoolean("stopwell.write")) {
      page.screenshot(new Page.ScreenshotOptions().setPath(picture));
    }
    assertTrue(
        Files.exists(picture),
        picture + " is missing; run this test with -Dstopwell.write=true to make it");
    long size = Files.size(picture);
    assertTrue(size <= PICTURE, picture + " has " + size + " bytes, most " + PICTURE);
  }

  /**
   * Fails when the accessibility checker finds something serious or critical.
   *
   * @param page the page
   */
  protected static void accessible(Page page) {
    List<String> found = new ArrayList<>();
    new AxeBuilder(page)
        .setLegacyMode(true)
        .analyze()
        .getViolations()
        .forEach(
            rule -> {
              if (GRAVE.contains(rule.getImpact())) {
                rule.getNodes()
                    .forEach(
                        node ->
                            found.add(
                                rule.getId()
                                    + ": "
                                    + node.getHtml()
                                    + " "
                                    + node.getFailureSummary()));
              }
            });
    assertEquals(List.of(), found, () -> String.join("\n", found));
  }

  /**
   * Fails when the page is wider than its window. What is wide must scroll within its own box.
   *
   * @param page the page
   */
  protected static void noSidewaysScroll(Page page) {
    assertEquals(
        "",
        page.evaluate(
            """
            () => {
              const width = document.documentElement.clientWidth;
              if (document.documentElement.scrollWidth <= width) return '';
              const boxed = e => e && (getComputedStyle(e).overflowX !== 'visible' || boxed(e.parentElement));
              return 'wider than ' + width + ' px: ' + [...document.body.querySelectorAll('*')]
                .filter(e => e.getBoundingClientRect().right > width && !boxed(e.parentElement))
                .map(e => e.outerHTML.slice(0, 120)).join('; ');
            }
            """));
  }

  private BrowserContext profile() {
    if (profile == null) {
      BrowserContext made =
          CHROMIUM
              .browser()
              .newContext(
                  new Browser.NewContextOptions()
                      .setViewportSize(WIDE, HEIGHT)
                      .setColorScheme(ColorScheme.LIGHT)
                      .setReducedMotion(ReducedMotion.REDUCE)
                      .setLocale("en-GB"));
      made.setDefaultTimeout(PATIENCE);
      made.onRequest(request -> stays(request.url()));
      made.onPage(page -> page.onWebSocket(socket -> stays(socket.url())));
      made.onWebError(error -> faults.add(error.error()));
      made.onConsoleMessage(
          message -> {
            if (message.text().contains("Content Security Policy")) {
              faults.add(message.text());
            }
          });
      profile = made;
    }
    return profile;
  }

  /** Notes a request that leaves this machine. */
  private void stays(String address) {
    URI uri = URI.create(address);
    String host = uri.getHost();
    if (!Set.of("file", "data", "blob", "about").contains(uri.getScheme())
        && (host == null || !THIS_MACHINE.contains(host))) {
      faults.add("a request leaves this machine: " + address);
    }
  }

  /** What the pages did wrong until now; the list is empty afterwards. */
  final List<String> takeFaults() {
    if (profile != null) {
      // Events arrive while Playwright answers a question.
      profile.pages().forEach(page -> page.evaluate("new Promise(done => setTimeout(done))"));
    }
    List<String> taken = List.copyOf(faults);
    faults.clear();
    return taken;
  }

  @AfterEach
  final void noPageMisbehaved() {
    if (profile != null) {
      profile.close();
      profile = null;
    }
    assertEquals(List.of(), faults);
  }
}
