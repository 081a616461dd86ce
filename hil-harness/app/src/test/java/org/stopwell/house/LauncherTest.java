package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.rig.time.MachineClock;

/**
 * The launcher on a machine that lacks everything: a copy of it in an empty tree, with a search
 * path on which apt, Maven and the JDK are scripts that write down how they were called.
 */
class LauncherTest {
  private static final String INSTALL =
      "apt-get update && apt-get install -y --no-install-recommends default-jdk-headless maven";

  private static final List<String> BASIC_TOOLS =
      List.of(
          "awk",
          "bash",
          "cat",
          "dirname",
          "env",
          "find",
          "flock",
          "grep",
          "locale",
          "mkdir",
          "mv",
          "readlink",
          "rm",
          "script",
          "sed",
          "setpriv",
          "sh",
          "sleep",
          "sort",
          "tee",
          "touch");

  private static final Map<String, String> UTF_8 = Map.of("LC_ALL", "C.UTF-8");

  @TempDir Path machine;
  private Path house;
  private Path bin;
  private Path calls;

  private record Outcome(int exitCode, String out, String err) {}

  @BeforeEach
  void anEmptyMachine() throws IOException {
    house = Files.createDirectories(machine.resolve("house with a space, é and 漢"));
    bin = Files.createDirectories(machine.resolve("bin"));
    calls = machine.resolve("calls");
    Files.createDirectories(machine.resolve("jdks"));
    Files.copy(Tree.root().resolve("stopwell"), house.resolve("stopwell"));
    executable(house.resolve("stopwell"));
    Files.writeString(house.resolve("pom.xml"), "<project/>");
    for (String module :
        List.of("controller-core", "bench-rig", "hil-harness/stats", "hil-harness/app")) {
      Files.createDirectories(house.resolve(module).resolve("src/main/java"));
      Files.writeString(house.resolve(module).resolve("pom.xml"), "<project/>");
    }
    for (String tool : BASIC_TOOLS) {
      tool(bin.resolve(tool), "exec " + onThePath(tool) + " \"$@\"");
    }
    theUserIs(1000);
  }

  @Test
  void withoutATerminalTheExactLineForAnAdministratorIsPrinted() throws Exception {
    aptGet("exit 0");
    Outcome outcome = launch("--help");
    assertEquals(6, outcome.exitCode);
    assertTrue(outcome.err.contains("default-jdk-headless maven"), outcome.err);
    assertTrue(outcome.err.contains("  " + INSTALL + "\n"), outcome.err);
    assertFalse(Files.exists(calls), "nothing may be installed without asking");
  }

  @Test
  void aUserWithoutSudoIsNotAskedEvenInCi() throws Exception {
    aptGet("exit 0");
    Outcome outcome = launchInCi("--help");
    assertEquals(6, outcome.exitCode);
    assertTrue(outcome.err.contains(INSTALL), outcome.err);
    assertFalse(Files.exists(calls));
  }

  @Test
  void helpForItsOwnTwoWordsNeedsNoTools() throws Exception {
    for (String word : List.of("test", "bench")) {
      Outcome outcome = launch(word, "--help");
      assertEquals(0, outcome.exitCode, outcome.err);
      assertTrue(outcome.out.contains("./stopwell " + word + " "), outcome.out);
    }
  }

  @Test
  void withoutAptThePackagesAreNamed() throws Exception {
    Outcome outcome = launchInCi("--help");
    assertEquals(6, outcome.exitCode);
    assertTrue(outcome.err.contains("default-jdk-headless maven"), outcome.err);
  }

  @Test
  void rootInCiInstallsBuildsAndRunsWithoutAQuestion() throws Exception {
    theUserIs(0);
    aptGetThatInstalls();
    Outcome outcome = launchInCi("run", "my plan.yaml", "--seed", "7");
    assertEquals(4, outcome.exitCode, outcome.err);
    assertEquals("[run] [my plan.yaml] [--seed] [7]\n", outcome.out);
    assertEquals(
        List.of(
            "apt-get update",
            "apt-get install -y --no-install-recommends default-jdk-headless maven",
            "mvn -B -ntp -Dstyle.color=never package -Dmaven.test.skip=true"),
        Files.readAllLines(calls));
  }

  @Test
  void sudoIsUsedWithoutAPasswordPromptInCi() throws Exception {
    aptGetThatInstalls();
    tool(bin.resolve("sudo"), "[ \"$1\" = -n ] || exit 1; shift; exec \"$@\"");
    assertEquals(4, launchInCi("run").exitCode);
  }

  @Test
  void aFailedInstallationHandsTheLineOver() throws Exception {
    theUserIs(0);
    aptGet("exit 100");
    Outcome outcome = launchInCi("--help");
    assertEquals(6, outcome.exitCode);
    assertTrue(outcome.err.endsWith("  " + INSTALL + "\n"), outcome.err);
  }

  @Test
  void atATerminalOneQuestionIsAskedAndNoMeansNo() throws Exception {
    theUserIs(0);
    aptGetThatInstalls();
    Outcome outcome = launchAtATerminal("n\n");
    assertEquals(6, outcome.exitCode, outcome.out);
    assertTrue(outcome.out.contains("Install them now with apt? [Y/n]"), outcome.out);
    assertTrue(outcome.out.contains(INSTALL), outcome.out);
    assertFalse(Files.exists(calls));
  }

  @Test
  void atATerminalOneQuestionIsAskedAndEnterMeansYes() throws Exception {
    theUserIs(0);
    aptGetThatInstalls();
    Outcome outcome = launchAtATerminal("\n");
    assertEquals(4, outcome.exitCode, outcome.out);
    assertEquals(2, outcome.out.split("\\[Y/n]", -1).length, "one question: " + outcome.out);
  }

  @Test
  void aJdkOlderThan17DoesNotCount() throws Exception {
    aptGet("exit 0");
    jdk("11.0.2");
    maven();
    Outcome outcome = launch("--help");
    assertEquals(6, outcome.exitCode);
    assertTrue(outcome.err.contains("not installed: default-jdk-headless \n"), outcome.err);
  }

  @Test
  void theProgramIsBuiltOnceAndAgainWhenASourceIsNewer() throws Exception {
    jdk("21.0.4");
    maven();
    launch("--help");
    launch("--help");
    assertEquals(1, Files.readAllLines(calls).size(), "the second start must not build");
    int builds = 1;
    for (String file :
        List.of(
            "bench-rig/src/main/java/A.java",
            "hil-harness/stats/src/main/java/A.java",
            "hil-harness/stats/pom.xml")) {
      Path source = Files.writeString(house.resolve(file), "class A {}");
      Files.setLastModifiedTime(source, FileTime.from(Instant.now().plusSeconds(++builds)));
      Outcome outcome = launch("--help");
      assertEquals(builds, Files.readAllLines(calls).size(), file + " is newer: build");
      assertTrue(outcome.err.startsWith("Building Stopwell"), outcome.err);
      Files.setLastModifiedTime(source, FileTime.from(Instant.EPOCH));
    }
  }

  @Test
  void withoutACommandTheLauncherSaysWhichItHasAndBuildsNothing() throws Exception {
    Outcome outcome = launch();
    assertEquals(2, outcome.exitCode);
    assertTrue(outcome.err.contains("./stopwell --help"), outcome.err);
    assertFalse(Files.exists(calls));
  }

  @Test
  void anUpToDateProgramNeedsNoMaven() throws Exception {
    jdk("17.0.15");
    maven();
    launch("--help");
    Files.delete(bin.resolve("mvn"));
    Outcome outcome = launch("check");
    assertEquals("[check]\n", outcome.out);
    assertEquals("", outcome.err);
  }

  @Test
  void aFailedBuildShowsItsMessagesAndRunsNothing() throws Exception {
    jdk("17.0.15");
    tool(
        bin.resolve("mvn"),
        "echo '[INFO] chatter'; echo '[ERROR] Lead.java:[3,1] no such tooth'; exit 1");
    for (int attempt = 1; attempt <= 2; attempt++) {
      Outcome outcome = launch("--help");
      assertEquals(6, outcome.exitCode);
      assertEquals("", outcome.out);
      assertTrue(outcome.err.contains("no such tooth"), outcome.err);
      assertFalse(outcome.err.contains("chatter"), outcome.err);
    }
  }

  /** 1 is the verdict FAIL, and the code with which the Java machine ends when it cannot start. */
  @ParameterizedTest
  @CsvSource({
    "exit 100, 0",
    "exit 101, 1",
    "exit 102, 2",
    "exit 103, 3",
    "exit 105, 5",
    "exit 106, 6",
    "exit 1, 6",
    "exit 3, 6",
    "exit 134, 6",
    "kill -9 $$, 6",
    "exit 130, 130"
  })
  void onlyTheProgramGivesAVerdict(String ending, int code) throws Exception {
    jdk("17.0.15");
    maven();
    launch("--help");
    Outcome outcome = launchIn(Map.of("LC_ALL", "C.UTF-8", "JAVA_DOES", ending), "run", "p.yaml");
    assertEquals(code, outcome.exitCode, outcome.err);
    boolean itself = code == 6 && !ending.equals("exit 106");
    assertEquals(
        itself, outcome.err.contains("this says nothing about controller or rig"), outcome.err);
  }

  @Test
  void aMachineWithTooLittleMemoryIsNoFailureOfTheController() throws Exception {
    jdk("17.0.15");
    maven();
    Path java = Path.of(System.getProperty("java.home"), "bin/java");
    tool(machine.resolve("jdks/jdk-17.0.15/bin/java"), "exec '" + java + "' \"$@\"");
    Outcome outcome =
        launchIn(Map.of("LC_ALL", "C.UTF-8", "STOPWELL_JAVA_OPTS", "-Xmx1k"), "run", "p.yaml");
    assertEquals(6, outcome.exitCode, outcome.err);
    assertTrue(outcome.err.contains("Java ended with code 1."), outcome.err);
  }

  /** A bench by the clock needs short pauses; a simulation needs little processor time. */
  @ParameterizedTest
  @CsvSource({
    "run p.yaml, '', true, false",
    "run p.yaml --bench serial, '', false, false",
    "run p.yaml --bench=pi, '', false, false",
    "console, '', false, false",
    "run p.yaml, -XX:+UseSerialGC, false, false",
    "explore s.yaml, '', true, true",
    "explore s.yaml, -XX:+UseSerialGC, false, true",
  })
  void onlyASimulationRunsUnderTheParallelCollectorAndAnExplorationInLittleMemory(
      String arguments, String options, boolean parallel, boolean little) throws Exception {
    jdk("17.0.15");
    maven();
    tool(machine.resolve("jdks/jdk-17.0.15/bin/java"), "printf '%s ' \"$@\"; exit 100");
    Outcome outcome =
        launchIn(Map.of("LC_ALL", "C.UTF-8", "STOPWELL_JAVA_OPTS", options), arguments.split(" "));
    assertEquals(0, outcome.exitCode, outcome.err);
    assertEquals(parallel, outcome.out.contains("-XX:+UseParallelGC"), outcome.out);
    assertEquals(little, outcome.out.contains("-XX:ErgoHeapSizeLimit=2g"), outcome.out);
  }

  @Test
  void aTreeThatCannotBeWrittenIsNoFailureOfTheController() throws Exception {
    jdk("17.0.15");
    maven();
    Files.createDirectories(house.resolve("hil-harness/app"));
    Files.writeString(house.resolve("hil-harness/app/target"), "in the way");
    Outcome outcome = launch("run", "p.yaml");
    assertEquals(6, outcome.exitCode, outcome.err);
  }

  @ParameterizedTest
  @ValueSource(strings = {"INT", "TERM"})
  void aSignalReachesTheProgramAndItsVerdictCounts(String signal) throws Exception {
    Process launcher = longRun();
    Path stopped = machine.resolve("stopped");
    new ProcessBuilder("sh", "-c", "kill -" + signal + " " + launcher.pid()).start().waitFor();
    assertTrue(launcher.waitFor(200, TimeUnit.SECONDS), "the launcher did not end");
    assertTrue(Files.exists(stopped), "the program was not asked to stop");
    assertEquals(5, launcher.exitValue());
  }

  @Test
  void theProgramStopsSafelyWhenItsLauncherIsKilled() throws Exception {
    longRun().destroyForcibly().waitFor();
    waitFor(machine.resolve("stopped"));
  }

  /** A program that runs until it is asked to stop, and then takes a moment. */
  private Process longRun() throws Exception {
    jdk("17.0.15");
    maven();
    launch("--help");
    Path running = machine.resolve("running");
    ProcessBuilder builder =
        new ProcessBuilder(
            onThePath("env") + "", "--default-signal=INT", house.resolve("stopwell") + "", "run");
    builder.environment().clear();
    builder.environment().put("PATH", bin.toString());
    builder.environment().put("LC_ALL", "C.UTF-8");
    builder.environment().put("STOPWELL_JDKS", machine.resolve("jdks").toString());
    builder
        .environment()
        .put(
            "JAVA_DOES",
            "trap 'sleep 0.3; touch \"%s\"; exit 105' INT TERM; touch '%s'; while :; do sleep 0.05; done"
                .formatted(machine.resolve("stopped"), running));
    builder.redirectErrorStream(true).redirectOutput(machine.resolve("out").toFile());
    Process launcher = builder.start();
    waitFor(running);
    return launcher;
  }

  private static void waitFor(Path file) {
    for (int i = 0; i < 4_000 && !Files.exists(file); i++) {
      MachineClock.waitNs(50_000_000);
    }
    assertTrue(Files.exists(file), file + " in 200 s");
  }

  @Test
  void theProgramReadsTheInputOfItsLauncher() throws Exception {
    jdk("17.0.15");
    maven();
    launch("--help");
    Outcome outcome =
        start(
            List.of(),
            "dry\n",
            Map.of("LC_ALL", "C.UTF-8", "JAVA_DOES", "read -r a; echo \"read $a\"; exit 100"),
            "rig");
    assertEquals("[rig]\nread dry\n", outcome.out);
  }

  @ParameterizedTest
  @ValueSource(strings = {"<&-", ">&-", "2>&-", "<&- >&- 2>&-", "| true", "2>&1 | true"})
  void closedStreamsChangeNoExitCode(String closed) throws Exception {
    jdk("17.0.15");
    maven();
    launch("--help");
    String line = "'" + house.resolve("stopwell") + "' run " + closed;
    Outcome outcome = start(List.of("bash", "-c", line + "; exit ${PIPESTATUS[0]}"), "", UTF_8);
    assertEquals(4, outcome.exitCode, outcome.err);
  }

  @Test
  void theTestCommandClosesWithTheCountOfEveryModule() throws Exception {
    readyForTests("");
    Outcome outcome = launch("test");
    assertEquals(0, outcome.exitCode, outcome.err);
    assertTrue(
        outcome.out.endsWith(
            """
            controller-core          7 passed, 0 failed, 0 skipped
            hil-harness/stats        3 passed, 0 failed, 1 skipped
            10 passed, 0 failed, 1 skipped
            """),
        outcome.out);
  }

  @Test
  void theTestCommandFailsWhenATestFailed() throws Exception {
    readyForTests(report("bench-rig", "TEST-B.xml", 5, 1, 1, 0));
    Outcome outcome = launch("test");
    assertEquals(1, outcome.exitCode);
    assertTrue(outcome.out.endsWith("13 passed, 2 failed, 1 skipped\n"), outcome.out);
  }

  @Test
  void theTestCommandFailsWhenTheBuildBrokeAfterTheTests() throws Exception {
    readyForTests("exit 1");
    assertEquals(1, launch("test").exitCode);
  }

  @Test
  void theTestCommandFailsWhenNoTestRan() throws Exception {
    readyForTests("rm -r */target/surefire-reports */*/target/surefire-reports");
    Outcome outcome = launch("test");
    assertEquals(1, outcome.exitCode);
    assertTrue(outcome.out.endsWith("0 passed, 0 failed, 0 skipped\n"), outcome.out);
  }

  /** What a locale can be that is not UTF-8: none, ASCII, overruled, not installed. */
  @Test
  void aLocaleThatIsNotUtf8IsReplacedForAllThatIsStarted() throws Exception {
    jdk("17.0.15");
    for (Map<String, String> locale :
        List.of(
            Map.<String, String>of(),
            Map.of("LANG", "C"),
            Map.of("LANG", "C.UTF-8", "LC_CTYPE", "POSIX"),
            Map.of("LANG", "C.UTF-8", "LC_ALL", "C"),
            Map.of("LC_ALL", "xx_XX.UTF-8"))) {
      maven("locale >> '" + calls + "'");
      Outcome outcome = launchIn(locale, "--help");
      String seen = Files.readString(calls);
      assertTrue(seen.contains("LC_ALL=C.UTF-8\n"), locale + " for Maven: " + seen);
      assertTrue(outcome.err.contains("java: C.UTF-8 UTF-8\n"), locale + ": " + outcome.err);
      Files.delete(calls);
      Files.delete(house.resolve("hil-harness/app/target/stopwell.stamp"));
    }
  }

  /**
   * A path that is not ASCII, of the house and of a plan, on a machine that cannot name its locale.
   */
  @Test
  void withoutTheLocaleCommandThatIsSoToo() throws Exception {
    jdk("17.0.15");
    maven();
    Files.delete(bin.resolve("locale"));
    for (Map<String, String> locale : List.of(Map.of("LANG", "C"), Map.of("LC_ALL", "POSIX"))) {
      Outcome outcome = launchIn(locale, "check", "plän 漢.yaml");
      assertEquals("[check] [plän 漢.yaml]\n", outcome.out);
      assertTrue(outcome.err.contains("java: C.UTF-8 "), locale + ": " + outcome.err);
    }
  }

  @Test
  void aLocaleThatIsUtf8StaysAsItIs() throws Exception {
    jdk("17.0.15");
    maven();
    Outcome outcome = launchIn(Map.of("LANG", "C.UTF-8"), "--help");
    assertTrue(outcome.err.contains("java:  UTF-8\n"), outcome.err);
  }

  private void readyForTests(String afterwards) throws IOException {
    jdk("17.0.15");
    String launcher = Files.readString(house.resolve("stopwell"));
    int list = launcher.indexOf("test_tools=(");
    Matcher named =
        Pattern.compile("[\\s(]([a-zA-Z][\\w-]*)=")
            .matcher(launcher.substring(list, launcher.indexOf("\n\n", list)));
    while (named.find()) {
      tool(bin.resolve(named.group(1)), "");
    }
    maven(
        report("controller-core", "TEST-A.xml", 7, 0, 0, 0)
            + report("hil-harness/stats", "TEST-C.xml", 4, 0, 0, 1)
            + afterwards);
  }

  private static String report(
      String module, String file, int tests, int errors, int failures, int skipped) {
    String directory = module + "/target/surefire-reports";
    return """
        mkdir -p %s
        echo '<testsuite xmlns:x="u" name="A" time="0.5" tests="%d" errors="%d" skipped="%d" failures="%d">' > %s/%s
        """
        .formatted(directory, tests, errors, skipped, failures, directory, file);
  }

  private void theUserIs(int id) throws IOException {
    tool(bin.resolve("id"), "echo " + id);
  }

  private void aptGet(String afterwards) throws IOException {
    tool(bin.resolve("apt-get"), "echo \"apt-get $*\" >> '" + calls + "'\n" + afterwards);
  }

  /** An apt-get whose installation brings a JDK and Maven. */
  private void aptGetThatInstalls() throws IOException {
    Path later = machine.resolve("later");
    Files.createDirectories(later);
    jdk(later, "17.0.15");
    maven(later.resolve("mvn"), "");
    aptGet(
        "[ \"$1\" != install ] || { mv '%s' '%s'; mv '%s' '%s'; }"
            .formatted(
                later.resolve("jdk-17.0.15"), machine.resolve("jdks"), later.resolve("mvn"), bin));
  }

  private void maven(String... afterwards) throws IOException {
    maven(bin.resolve("mvn"), String.join("\n", afterwards));
  }

  private void maven(Path file, String afterwards) throws IOException {
    String jar = "hil-harness/app/target/stopwell.jar";
    tool(file, "echo \"mvn $*\" >> '" + calls + "'\ntouch " + jar + "\n" + afterwards);
  }

  private void jdk(String version) throws IOException {
    jdk(machine.resolve("jdks"), version);
  }

  /**
   * A JDK whose java prints its program arguments and ends as the environment says, or else with
   * the code of a safety stop: the program adds 100 to each.
   */
  private static void jdk(Path directory, String version) throws IOException {
    Path home = Files.createDirectories(directory.resolve("jdk-" + version));
    Files.createDirectories(home.resolve("bin"));
    Files.writeString(
        home.resolve("release"), "IMPLEMENTOR=\"x\"\nJAVA_VERSION=\"" + version + "\"\n");
    tool(home.resolve("bin/javac"), "");
    tool(
        home.resolve("bin/java"),
        """
        while [ "$1" != org.stopwell.harness.cli.Main ]; do shift; done
        shift
        separator=
        for argument in "$@"; do printf '%s[%s]' "$separator" "$argument"; separator=' '; done
        echo
        [ -z "${SHOW_LOCALE:-}" ] || echo "java: ${LC_ALL:-} $(locale charmap)" >&2
        eval "${JAVA_DOES:-exit 104}"
        """);
  }

  private Outcome launch(String... arguments) throws Exception {
    return start(List.of(), "", UTF_8, arguments);
  }

  private Outcome launchInCi(String... arguments) throws Exception {
    return start(List.of(), "", Map.of("LC_ALL", "C.UTF-8", "CI", "true"), arguments);
  }

  private Outcome launchIn(Map<String, String> locale, String... arguments) throws Exception {
    Map<String, String> environment = new HashMap<>(locale);
    environment.put("SHOW_LOCALE", "yes");
    return start(List.of(), "", environment, arguments);
  }

  private Outcome launchAtATerminal(String typed) throws Exception {
    return start(
        List.of("script", "-qec", "'" + house.resolve("stopwell") + "' --help", "/dev/null"),
        typed,
        UTF_8);
  }

  private Outcome start(
      List<String> wrapper, String typed, Map<String, String> environment, String... arguments)
      throws Exception {
    List<String> command = new ArrayList<>(wrapper);
    if (command.isEmpty()) {
      command.add(house.resolve("stopwell").toString());
    }
    command.addAll(List.of(arguments));
    Path out = machine.resolve("out");
    Path err = machine.resolve("err");
    Path in = Files.writeString(machine.resolve("in"), typed);
    ProcessBuilder builder = new ProcessBuilder(command).directory(machine.toFile());
    builder.environment().clear();
    builder.environment().put("PATH", bin.toString());
    builder.environment().put("SHELL", "/bin/sh");
    builder.environment().put("STOPWELL_JDKS", machine.resolve("jdks").toString());
    builder.environment().putAll(environment);
    builder.redirectOutput(out.toFile()).redirectError(err.toFile()).redirectInput(in.toFile());
    Process process = builder.start();
    assertTrue(process.waitFor(200, TimeUnit.SECONDS), "the launcher did not end");
    return new Outcome(process.exitValue(), Files.readString(out), Files.readString(err));
  }

  private static void tool(Path file, String script) throws IOException {
    Files.write(file, ("#!/bin/sh\n" + script + "\n").getBytes(StandardCharsets.UTF_8));
    executable(file);
  }

  private static void executable(Path file) throws IOException {
    Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rwxr-xr-x"));
  }

  private static Path onThePath(String tool) {
    for (String directory : System.getenv("PATH").split(":", -1)) {
      Path file = Path.of(directory, tool);
      if (Files.isExecutable(file)) {
        return file;
      }
    }
    throw new AssertionError(tool + " is not on the search path");
  }
}
