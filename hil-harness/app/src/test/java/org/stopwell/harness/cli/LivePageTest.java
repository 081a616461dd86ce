package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.console.CalibrationDesk;
import org.stopwell.harness.console.ConsoleServer;
import org.stopwell.harness.console.StartDesk;
import org.stopwell.harness.live.LiveFeed;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.Onlooker;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.house.BrowserTest;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.calibration.Attendant.Question;
import org.stopwell.rig.calibration.Attendant.Wanted;
import org.stopwell.rig.virtual.VirtualBench;

/** The page that a laboratory leaves open: it shows the bench, and asks for what may be asked. */
class LivePageTest extends BrowserTest {
  private static final long MS = 1_000_000;

  @TempDir Path dir;

  /** More trials than can be run while the test looks: it stops them itself, twice. */
  @Test
  void aCampaignIsStartedWatchedStoppedAndResumedFromThePage() throws Exception {
    Path plans = Files.createDirectory(dir.resolve("plans"));
    Files.writeString(plans.resolve("quick.yaml"), TestPlans.quick(20_000).source().text());
    Files.writeString(plans.resolve("wrong.yaml"), "plan: 1\nname: wrong\n");
    Files.writeString(
        plans.resolve("settings.yaml"), TestPlans.quick(1).settings().source().text());
    Path runs = dir.resolve("runs");
    CalibrationDesk questions = new CalibrationDesk("Questions", () -> false);
    StartDesk desk =
        new StartDesk(
            plans,
            "virtual, simulated",
            "virtual",
            false,
            runs,
            Policies.BUILT_IN,
            new ConsoleCampaigns(questions, List.of(), List.of("--jobs", "1")));
    try (ConsoleServer console = new ConsoleServer(runs, 0, questions, desk)) {
      Page page = open(console.address());
      button(page, "Show the mistakes of wrong.yaml").press("Enter");
      page.waitForSelector("#advice li");
      assertTrue(page.textContent("#advice").contains("settings: missing"));
      assertFalse(page.isVisible("#start"), "a plan with mistakes cannot be started");
      page.locator("#not-now").press("Enter");

      button(page, "Check and start quick").press("Enter");
      page.waitForSelector("#start:visible");
      assertTrue(page.textContent("#advice").contains("torque limit"), "advice comes first");
      page.locator("#start").press("Enter");
      page.locator("article a").first().click();
      page.waitForSelector("#stop:visible");
      int first = awaitTrials(page, 0);

      page.locator("#stop").press("Enter");
      page.waitForSelector("#resume:visible");
      assertTrue(page.textContent("#state").startsWith("Interrupted after "));
      button(page, "Resume …").press("Enter");
      page.locator("#go").press("Enter");
      page.waitForSelector("#stop:visible:enabled");
      awaitTrials(page, first);

      page.locator("#stop").click();
      page.waitForSelector("#report:visible");
      page.click("#report");
      page.waitForSelector("#run-order-section");
      assertTrue(page.url().endsWith("/runs/quick-001/report.html"), page.url());
    } finally {
      desk.leave();
    }
    try (RunFile run = RunFile.load(runs.resolve("quick-001"))) {
      assertTrue(run.notes().stream().anyMatch(note -> note.kind().equals("resumed")));
    }
  }

  private static Locator button(Page page, String name) {
    return page.getByRole(
        AriaRole.BUTTON, new Page.GetByRoleOptions().setName(name).setExact(true));
  }

  /** Waits until the picture of the stops holds more than that many trials. */
  private static int awaitTrials(Page page, int more) {
    page.waitForFunction("n => parseInt(document.getElementById('stops').ariaLabel, 10) > n", more);
    String label = page.locator("#stops").getAttribute("aria-label");
    assertTrue(label.contains("within the tolerance") || label.contains("as expected"), label);
    return Integer.parseInt(label.substring(0, label.indexOf(' ')));
  }

  /** The frames here are made up: they are no measurement. */
  @Test
  void theBenchIsShownWithTruthAndReadingApartAndItsEmergencyStop() throws Exception {
    Plan plan = tooth("");
    try (RunFile file = RunFile.create(dir.resolve("shown"), header(plan));
        LiveFeed feed = LiveFeed.begin(dir.resolve("shown"), file.header(), List.of());
        ConsoleServer console = new ConsoleServer(dir, 0)) {
      Onlooker bench = feed.place();
      bench.begin(plan.trial(0));
      ControllerInput in = new ControllerInput();
      approach(bench, in, 5_000);
      Page page = open(console.address() + "watch/shown");
      page.waitForSelector("#canal svg");
      page.waitForFunction("() => document.getElementById('now-truth').textContent !== ''");
      assertEquals("1.50 mm", page.textContent("#now-truth"));
      assertEquals("1.62 mm ± 0.40 mm", page.textContent("#now-reading"));
      assertEquals("easing: slowed on approach", page.textContent("#now-state"));
      assertTrue(page.isVisible("#simulated"), "simulated is called simulated");
      assertTrue(page.isHidden("#safety"));
      page.waitForSelector("#distance canvas");
      inEveryLook(page, "live");
      documented(page, "live");

      in.stopLine = true;
      bench.step(5_001 * MS, in, new ControllerOutput(), new Truth(), 0);
      page.waitForSelector("#safety:visible");
      in.stopLine = false;
      bench.end();
      bench.begin(plan.trial(1));
      bench.step(0, in, new ControllerOutput(), new Truth(), 0);
      page.waitForFunction(
          "() => document.getElementById('which').textContent.startsWith('Trial 2')");
      assertTrue(page.isVisible("#safety"), "no page takes it back");

      button(page, "Show the last stop").press("Enter");
      page.waitForFunction(
          "() => document.getElementById('which').textContent.startsWith('Trial 1')");
      button(page, "Go on live").press("Enter");
      page.waitForFunction(
          "() => document.getElementById('which').textContent.startsWith('Trial 2')");
    }
  }

  @Test
  void aPlanThatHidesItsTrialsShowsTheBenchAlone() throws Exception {
    Plan plan = tooth("sentinels: {every: 4, expected_mm: 0.5, sd_mm: 0.3, on_bad: go_on}\n");
    try (RunFile file = RunFile.create(dir.resolve("hidden"), header(plan));
        LiveFeed feed = LiveFeed.begin(dir.resolve("hidden"), file.header(), List.of());
        ConsoleServer console = new ConsoleServer(dir, 0)) {
      Onlooker bench = feed.place();
      bench.begin(plan.trial(0));
      approach(bench, new ControllerInput(), 5_000);
      Page page = open(console.address() + "watch/hidden");
      page.waitForSelector("#covered:visible");
      page.waitForFunction("() => document.getElementById('link').textContent !== '–'");
      assertTrue(page.isHidden("#shown"));
      assertFalse(page.content().contains("1.50 mm"), "neither truth nor reading");
      picture(page, "live-hidden");
    }
  }

  @Test
  void theQuestionsOfABenchComeWithAPicture() throws Exception {
    CalibrationDesk desk = new CalibrationDesk("Proof of a bench", () -> false);
    try (ConsoleServer console = new ConsoleServer(dir, 0, desk, null)) {
      CompletableFuture<Boolean> pressed =
          CompletableFuture.supplyAsync(
              () -> desk.asked("Press the emergency stop, and leave it pressed."));
      Page page = open(console.address() + "calibration");
      page.waitForSelector("#picture svg");
      assertEquals(
          "A hand presses the emergency stop down.",
          page.getAttribute("#picture svg", "aria-label"));
      inEveryLook(page, "operator");
      button(page, "Done").press("Enter");
      assertTrue(pressed.get());
      CompletableFuture<Optional<String>> read =
          CompletableFuture.supplyAsync(
              () ->
                  desk.answer(
                      new Question(Wanted.NUMBER, "The stage is at rest. Indicator", "µm")));
      page.waitForFunction(
          "() => document.getElementById('question').textContent.endsWith('Indicator')");
      page.keyboard().type("12");
      page.keyboard().press("Enter");
      assertEquals(Optional.of("12"), read.get());
    }
  }

  /** A file that goes down at 1 mm/s and is 1.5 mm short of the foramen at the end. */
  private static void approach(Onlooker bench, ControllerInput in, int ms) {
    ControllerOutput out = new ControllerOutput();
    Truth truth = new Truth();
    for (int at = 0; at <= ms; at++) {
      truth.remainingMicrons = 1_500 + ms - at;
      truth.fluidLevelMicrons = 8_000;
      boolean reads = truth.remainingMicrons < 5_000;
      out.drive = Drive.FORWARD;
      out.state = reads && at > 4_000 ? State.EASING : State.TURNING;
      out.reason = out.state == State.EASING ? Reason.APPROACHING : Reason.CANAL_ENTERED;
      out.readingPresent = reads;
      out.remainingMicrons = truth.remainingMicrons + 120;
      out.boundMicrons = 400 + (truth.remainingMicrons - 1_500) / 5;
      out.trust = reads ? Trust.SURE : Trust.NONE;
      out.cause = reads ? Cause.NO_CAUSE : Cause.UNWETTED;
      in.speedMilliRpm = out.state == State.EASING ? 150_000 : 300_000;
      in.torqueMicroNewtonMetres = 900 + at % 300;
      bench.step(at * MS, in, out, truth, 0);
    }
  }

  private static Plan tooth(String more) throws Exception {
    String plan =
        """
        plan: 1
        name: page
        settings: settings.yaml
        stage: length
        seed: 3
        trials: 4
        time_limit_s: 30
        scene:
          hand: {feed_mm_per_s: 1, passive_mm: 12}
        factors:
          fluid:
            half-wet: {fluid: {level_mm: 8}}
            brimful: {fluid: {level_mm: 15}}
        """
            + more;
    return Plan.read(
        new Source("page.yaml", plan),
        new Source(
            "settings.yaml",
            Source.of(
                    TestPlans.file("first-stop").resolveSibling("../settings/reference-canal.yaml"))
                .text()));
  }

  private static RunHeader header(Plan plan) {
    return RunHeader.of(
        plan,
        "test",
        new VirtualBench(MS).describe(),
        "2026-01-01T00:00:00Z",
        "test",
        Registration.NONE);
  }
}
