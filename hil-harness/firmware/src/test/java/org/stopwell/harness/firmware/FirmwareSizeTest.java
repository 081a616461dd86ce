package org.stopwell.harness.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.firmware.Exported.Outcome;

/**
 * Flash, RAM and stack of the linked controller on two processors. To write the table of the page:
 * {@code -Dstopwell.write=true}.
 */
class FirmwareSizeTest {
  private static final Path PAGE = Path.of("../../docs/export-firmware.md");
  private static final String HEAD =
      "| policy | processor | flash, bytes | RAM, bytes | stack, bytes |\n|---|---|---:|---:|---:|\n";

  /**
   * The page may differ by this much from another version of the compiler, share; or by one
   * function of its library on the deepest path.
   */
  private static final double SLACK = 0.1;

  private record Processor(String name, List<String> options) {}

  private static final List<Processor> PROCESSORS =
      List.of(
          new Processor("Cortex-M4", List.of("-mcpu=cortex-m4", "-mthumb")),
          new Processor(
              "Cortex-M7",
              List.of("-mcpu=cortex-m7", "-mthumb", "-mfpu=fpv5-d16", "-mfloat-abi=hard")));

  private record Size(String policy, String processor, int flash, int ram, int stack) {
    String row() {
      return String.format(
          Locale.ROOT, "| `%s` | %s | %,d | %,d | %,d |%n", policy, processor, flash, ram, stack);
    }
  }

  @TempDir Path dir;

  @Test
  void everyPolicyFitsIntoASmallProcessor() throws Exception {
    List<Size> sizes = new ArrayList<>();
    for (String policy : List.of("ratio", "resistance", "locator", "approach")) {
      String vector = policy.equals("ratio") ? "transitions-01.swv" : policy + ".swv";
      byte[] bytes = Exported.vectors().getOrDefault(vector, new byte[0]);
      Firmware firmware = Firmware.of(GoldenVector.settings(bytes, Exported.weights()));
      Path sources = Exported.write(firmware, dir.resolve(policy));
      for (Processor processor : PROCESSORS) {
        Size size = size(policy, processor, sources);
        sizes.add(size);
        boolean learned = policy.equals("approach");
        assertTrue(size.flash <= (learned ? 1 << 20 : 256 << 10), size.row());
        assertTrue(size.ram + size.stack <= (learned ? 192 << 10 : 64 << 10), size.row());
      }
    }
    StringBuilder table = new StringBuilder(HEAD);
    sizes.forEach(size -> table.append(size.row()));
    String page = Files.readString(PAGE);
    int from = page.indexOf(HEAD);
    int to = page.indexOf("\n\n", from) + 1;
    assertTrue(from >= 0 && to > 0, "the page has no table of sizes");
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(PAGE, page.substring(0, from) + table + page.substring(to));
    } else {
      compare(page.substring(from, to), table.toString());
    }
  }

  private static void compare(String written, String measured) {
    String[] expected = written.split("[|\\n]+", -1);
    String[] actual = measured.split("[|\\n]+", -1);
    assertEquals(expected.length, actual.length, measured);
    for (int i = 0; i < actual.length; i++) {
      String number = actual[i].strip().replace(",", "");
      if (number.matches("\\d+")) {
        double is = Double.parseDouble(number);
        double said = Double.parseDouble(expected[i].strip().replace(",", ""));
        double slack = Math.max(SLACK * said, StackUse.LIBRARY_BYTES);
        assertTrue(Math.abs(is - said) <= slack, "write the table again:\n" + measured);
      } else {
        assertEquals(expected[i], actual[i]);
      }
    }
  }

  /** Compiles as the Makefile does, and links without a C library. */
  private static Size size(String policy, Processor processor, Path sources) throws Exception {
    List<String> compile =
        new ArrayList<>(
            List.of(
                "arm-none-eabi-gcc",
                "-std=c99",
                "-Os",
                "-ffreestanding",
                "-ffp-contract=off",
                "-ffunction-sections",
                "-fdata-sections",
                "-fcallgraph-info=su",
                "-c",
                "stopwell.c",
                "stopwell_settings.c",
                "stopwell_memory.c"));
    compile.addAll(processor.options);
    assertEquals(new Outcome(0, ""), Exported.start(sources, compile));
    List<String> link =
        new ArrayList<>(
            List.of(
                "arm-none-eabi-gcc",
                "-nostdlib",
                "-Wl,--gc-sections",
                "-Wl,-e,stopwell_step",
                "-Wl,-u,stopwell_init",
                "-Wl,-u,stopwell_hash",
                "-o",
                "image.elf",
                "stopwell.o",
                "stopwell_settings.o",
                "stopwell_memory.o",
                "-lgcc"));
    link.addAll(processor.options);
    assertEquals(new Outcome(0, ""), Exported.start(sources, link));
    Outcome outcome = Exported.start(sources, List.of("arm-none-eabi-size", "image.elf"));
    String[] numbers = outcome.text().lines().toList().get(1).strip().split("\\s+", -1);
    int text = Integer.parseInt(numbers[0]);
    int data = Integer.parseInt(numbers[1]);
    int bss = Integer.parseInt(numbers[2]);
    StackUse stack = new StackUse(Files.readString(sources.resolve("stopwell.ci")));
    int deepest = Math.max(stack.of("stopwell_step"), stack.of("stopwell_hash"));
    return new Size(policy, processor.name, text + data, data + bss, deepest);
  }
}
