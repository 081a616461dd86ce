package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.File;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.teavm.tooling.EmptyTeaVMToolLog;
import org.teavm.tooling.TeaVMTargetType;
import org.teavm.tooling.TeaVMTool;

/** The very same controller, compiled to C by TeaVM and gcc, lives the same life bit for bit. */
class PortableCoreTest {
  @TempDir Path sources;

  @Test
  void compiledToCItGivesTheSameHashAfterEveryStep() throws Exception {
    TeaVMTool tool = new TeaVMTool();
    tool.setTargetType(TeaVMTargetType.C);
    tool.setMainClass(WorkingLife.class.getName());
    tool.setClassLoader(getClass().getClassLoader());
    tool.setClassPath(
        Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator, -1))
            .map(File::new)
            .toList());
    tool.setTargetDirectory(sources.toFile());
    tool.setLog(new EmptyTeaVMToolLog());
    tool.setShortFileNames(true);
    tool.setMaxHeapSize(512 << 20);
    tool.generate();
    assertTrue(
        tool.getProblemProvider().getProblems().isEmpty(), "the core left the subset of TeaVM");

    // No fused multiply-add: it rounds once where Java rounds twice. gcc would use it on arm64.
    run("gcc", "-O1", "-ffp-contract=off", "-w", "-o", "life", "all.c", "-lm");
    assertEquals(WorkingLife.outcome(), run("./life"));
  }

  private String run(String... command) throws Exception {
    Process process =
        new ProcessBuilder(command).directory(sources.toFile()).redirectErrorStream(true).start();
    String said =
        new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8).strip();
    assertEquals(0, process.waitFor(), () -> String.join(" ", command) + ": " + said);
    return said;
  }
}
