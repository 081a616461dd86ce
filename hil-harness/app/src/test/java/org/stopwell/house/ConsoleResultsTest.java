package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.cli.Main;
import org.stopwell.harness.console.ConsoleServer;
import org.stopwell.harness.console.SettingsDesk;
import org.stopwell.harness.trial.TestPlans;

/** Results and settings in the console, as somebody at a browser uses them. */
class ConsoleResultsTest extends BrowserTest {
  @TempDir Path dir;
  private ConsoleServer console;
  private Path settings;

  /** Two runs of one plan that differ in the standoff, and the settings of both. */
  @BeforeEach
  void open() throws Exception {
    String plan = TestPlans.quick(3).source().text();
    String text = TestPlans.quick(3).settings().source().text();
    settings = Files.createDirectories(dir.resolve("settings"));
    Files.createDirectories(dir.resolve("plans"));
    for (String name : new String[] {"before", "after"}) {
      Path file = settings.resolve(name + ".yaml");
      Files.writeString(
          file,
          name.equals("before") ? text : text.replace("standoff_mm: 0.5", "standoff_mm: 0.7"));
      Path planFile = dir.resolve("plans/" + name + ".yaml");
      Files.writeString(
          planFile,
          plan.replace("settings: settings.yaml", "settings: ../settings/" + name + ".yaml"));
      StringWriter said = new StringWriter();
      String[] words = {
        "run", planFile.toString(), "--out", dir.resolve("runs/" + name).toString()
      };
      Main.run(words, new PrintWriter(said), new PrintWriter(said));
      assertTrue(Files.exists(dir.resolve("runs/" + name + "/report.html")), said.toString());
    }
    console =
        new ConsoleServer(
            dir.resolve("runs"),
            0,
            null,
            null,
            null,
            new SettingsDesk(settings, Policies.BUILT_IN));
  }

  @AfterEach
  void close() {
    console.close();
  }

  @Test
  void runsAreFilteredATrialIsOpenedAndTwoRunsAreCompared() throws Exception {
    Page page = open(console.address() + "results");
    assertEquals(2, page.locator("tbody tr").count());
    inEveryLook(page, "runs");
    page.getByLabel("Search").fill("befo");
    page.getByText("Filter", new Page.GetByTextOptions().setExact(true)).click();
    assertEquals(1, page.locator("tbody tr").count());
    page.getByLabel("Search").fill("neither");
    page.keyboard().press("Enter");
    page.getByText("No run matches the filter.").waitFor();
    page.getByText("Show all").click();

    page.getByText("before", new Page.GetByTextOptions().setExact(true)).first().click();
    page.getByLabel("Verdict").selectOption("PASS");
    page.getByLabel("Search").fill("stopped short of the foramen");
    page.keyboard().press("Enter");
    Locator trials = page.locator("tbody th a");
    trials.first().waitFor();
    assertTrue(trials.count() > 0 && trials.count() < 6, "some of the trials are hidden");
    inEveryLook(page, "trials");
    trials.first().click();
    page.getByText("Stopped so that the file rests at the standoff of").first().waitFor();
    page.locator("select[name=settings]").selectOption("after.yaml");
    page.getByText("Draw over the trace").click();
    page.locator("svg .over.truth").first().waitFor();
    inEveryLook(page, "trial");
    page.getByText("The result in numbers.").evaluate("caption => caption.scrollIntoView()");
    documented(page, "console-trial");

    page.navigate(console.address() + "results");
    page.locator("select[name=run]").selectOption("after");
    page.locator("select[name=baseline]").selectOption("before");
    page.locator("button:text-is('Compare')").click();
    page.getByText("standoff_mm: 0.7").first().waitFor();
    assertTrue(page.locator("#moved-section svg[role=img]").count() >= 2, "both courses are drawn");
    inEveryLook(page, "comparison");
    documented(page, "comparison");
  }

  @Test
  void aValueBeyondItsLimitIsNamedAndOnlyValidSettingsAreSaved() throws Exception {
    Page page = open(console.address() + "settings");
    page.getByText("after.yaml").click();
    Path file = settings.resolve("after.yaml");
    String before = Files.readString(file);
    Locator standoff = page.getByLabel("standoff_mm");
    standoff.fill("9");
    page.locator(".wrong:has-text('3')").first().waitFor();
    assertEquals("true", standoff.getAttribute("aria-invalid"));
    assertTrue(page.locator("#mistakes li").first().textContent().startsWith("Line "));
    assertTrue(page.locator("#save").isDisabled(), "nothing invalid is saved");
    inEveryLook(page, "settings");

    standoff.fill("0.6");
    page.locator("#save:enabled").waitFor();
    Locator torque = page.getByLabel("torque_ncm");
    torque.fill("1");
    page.locator("#picture text:has-text('the file breaks first')").waitFor();
    page.evaluate("scrollTo(0, 0)");
    documented(page, "settings");
    torque.fill("0.6");
    page.locator("#picture text:has-text('below the strength')").waitFor();
    page.locator("#advice li:has-text('below the strength of the file')").waitFor();
    page.locator("#save:enabled").click();
    page.locator("#state:has-text('Saved.')").waitFor();
    String after = Files.readString(file);
    assertTrue(after.contains("standoff_mm: 0.6"), after);
    assertEquals(
        before.lines().filter(l -> l.contains("#")).toList(),
        after.lines().filter(l -> l.contains("#")).toList(),
        "comments stay");
    assertFalse(Files.exists(settings.resolve("after.yaml.new")));
  }
}
