package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.policy.PolicyExtension;
import org.stopwell.harness.cli.Main;

/**
 * The project of docs/templates/policy, copied, built and run as a stranger does, with an empty
 * Maven repository. What Maven needs beside the core comes from the repository of this build.
 */
class PolicyTemplateTest {
  private static final Path TEMPLATE = Tree.root().resolve("docs/templates/policy");

  @TempDir Path dir;

  @Test
  void threeCommandsLeadFromTheCopyToTheReport() throws Exception {
    Path project = dir.resolve("my-policy");
    copy(TEMPLATE, project);
    String said = extension(builtHouse(), project);
    Path jar = project.resolve("target/fixed-lead-1.0.jar");
    assertTrue(Files.exists(jar), said);
    assertTrue(
        Files.exists(project.resolve("target/surefire-reports/TEST-com.example.FixedLeadTest.xml")),
        "its own test ran");

    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    Path run = project.resolve("run");
    int code =
        Main.run(
            new String[] {
              "run", project.resolve("plan.yaml").toString(),
              "--extensions", jar.toString(),
              "--out", run.toString()
            },
            new PrintWriter(out),
            new PrintWriter(err));
    assertEquals(0, code, out.toString() + err);
    String report = Files.readString(run.resolve("report.html"));
    assertTrue(report.contains("policies.stopping fixed-lead"), "the report names the policy");
    assertTrue(report.contains("fixed-lead-1.0.jar"), "the report names the jar");
  }

  @Test
  void thePageShowsTheCodeAndTheCommandsOfTheTemplate() throws IOException {
    String page = Files.readString(Tree.root().resolve("docs/policy-example.md"));
    String source = Files.readString(TEMPLATE.resolve("src/main/java/com/example/FixedLead.java"));
    assertTrue(
        page.contains(source.substring(source.indexOf("/** A stopping")).strip()),
        "docs/policy-example.md shows another class");
    for (String line : Files.readAllLines(TEMPLATE.resolve("README.md"))) {
      assertTrue(!line.startsWith("    ") || page.contains(line), line);
    }
  }

  /** A house with a launcher that finds everything built: what the build of this test gives. */
  private Path builtHouse() throws IOException {
    Path house = Files.createDirectories(dir.resolve("house"));
    Path launcher = Files.copy(Tree.root().resolve("stopwell"), house.resolve("stopwell"));
    Files.setPosixFilePermissions(launcher, PosixFilePermissions.fromString("rwxr-xr-x"));
    Files.copy(Tree.root().resolve("pom.xml"), house.resolve("pom.xml"));
    for (String module : List.of("controller-core", "bench-rig", "hil-harness")) {
      Files.createDirectories(house.resolve(module));
    }
    Path target = Files.createDirectories(house.resolve("hil-harness/app/target/lib"));
    jarOfTheCore(target.resolve("controller-core-0.1.0.jar"));
    Files.createFile(target.resolveSibling("stopwell.jar"));
    Path stamp = Files.createFile(target.resolveSibling("stopwell.stamp"));
    Files.setLastModifiedTime(stamp, FileTime.from(Instant.now().plusSeconds(3600)));
    return launcher;
  }

  private static void jarOfTheCore(Path jar) throws IOException {
    Path core;
    try {
      core =
          Path.of(
              PolicyExtension.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    } catch (java.net.URISyntaxException e) {
      throw new IOException(e);
    }
    if (Files.isRegularFile(core)) {
      Files.copy(core, jar);
      return;
    }
    try (OutputStream to = Files.newOutputStream(jar);
        ZipOutputStream zip = new ZipOutputStream(to);
        Stream<Path> files = Files.walk(core)) {
      for (Path file : files.filter(Files::isRegularFile).toList()) {
        zip.putNextEntry(new ZipEntry(core.relativize(file).toString()));
        Files.copy(file, zip);
        zip.closeEntry();
      }
    }
  }

  private String extension(Path launcher, Path project) throws Exception {
    Path settings = dir.resolve("maven.xml");
    Files.writeString(
        settings,
        """
        <settings>
          <mirrors>
            <mirror>
              <id>here</id>
              <mirrorOf>external:*</mirrorOf>
              <url>%s</url>
            </mirror>
          </mirrors>
        </settings>
        """
            .formatted(ofThisBuild().toUri()));
    Path log = dir.resolve("log");
    ProcessBuilder builder =
        new ProcessBuilder(
                launcher.toString(),
                "extension",
                project.toString(),
                "-s",
                settings.toString(),
                "-Dmaven.repo.local=" + dir.resolve("empty-repository"))
            .redirectErrorStream(true)
            .redirectOutput(log.toFile());
    Process process = builder.start();
    assertTrue(process.waitFor(20, TimeUnit.MINUTES), "the build hangs");
    String said = Files.readString(log);
    assertEquals(0, process.exitValue(), said);
    return said;
  }

  /** The local repository of the Maven that runs this test: JUnit was fetched into it. */
  private static Path ofThisBuild() throws Exception {
    Path at = Path.of(Test.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    while (!at.endsWith("org/junit")) {
      at = java.util.Objects.requireNonNull(at.getParent());
    }
    return java.util.Objects.requireNonNull(
        java.util.Objects.requireNonNull(at.getParent()).getParent());
  }

  private static void copy(Path from, Path to) throws IOException {
    try (Stream<Path> all = Files.walk(from)) {
      for (Path one : all.toList()) {
        String inside = from.relativize(one).toString();
        if (!inside.matches("(target|repository|run)(/.*)?")) {
          Files.copy(one, to.resolve(inside));
        }
      }
    }
  }
}
