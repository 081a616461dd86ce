package org.stopwell.harness.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.objectweb.asm.Opcodes;
import org.stopwell.core.sample.Arithmetic;
import org.stopwell.harness.firmware.Exported.Outcome;

/** Single methods of Java in C: the same bits, and what a step must not do. */
class TranslationTest {
  private static final String SAMPLE = "org/stopwell/core/sample/";

  @TempDir Path dir;

  @Test
  void everyOperationGivesTheBitsOfJavaAtTheEdgesAndElsewhere() throws Exception {
    long[] edges = {
      0,
      1,
      -1,
      2,
      63,
      64,
      Integer.MAX_VALUE,
      Integer.MIN_VALUE,
      Long.MAX_VALUE,
      Long.MIN_VALUE,
      Double.doubleToLongBits(0.5),
      Double.doubleToLongBits(-2.5),
      Double.doubleToLongBits(1e300),
      Double.doubleToLongBits(-1e19),
      Double.doubleToLongBits(2251799813685249.5),
      Double.doubleToLongBits(Double.MIN_VALUE),
      Double.doubleToLongBits(Double.MIN_NORMAL),
      Double.doubleToLongBits(Double.NaN),
      Double.doubleToLongBits(Double.POSITIVE_INFINITY),
      Double.doubleToLongBits(Double.NEGATIVE_INFINITY)
    };
    List<Long> numbers = new ArrayList<>();
    for (long edge : edges) {
      numbers.add(edge);
    }
    long seed = 26;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    for (int i = 0; i < 180; i++) {
      numbers.add(random.nextLong());
    }
    StringBuilder table = new StringBuilder();
    StringBuilder expected = new StringBuilder();
    for (long a : numbers) {
      table.append(Names.literal(a)).append(",\n");
      long hash = 0;
      for (long b : numbers) {
        hash = 31 * hash + Arithmetic.of(a, b);
      }
      expected.append(Long.toHexString(hash)).append("\n");
    }
    Method of = new Method(SAMPLE + "Arithmetic", "of", "(JJ)J");
    String program =
        """
        @CODE@
        #include <stdio.h>
        static const int64_t numbers[] = {@TABLE@};
        int main(void) {
          size_t n = sizeof numbers / sizeof *numbers;
          for (size_t i = 0; i < n; i++) {
            uint64_t hash = 0;
            for (size_t j = 0; j < n; j++) hash = 31 * hash + (uint64_t)@OF@(numbers[i], numbers[j]);
            printf("%llx\\n", (unsigned long long)hash);
          }
          return 0;
        }
        """;
    Names names = new Names();
    Files.writeString(
        dir.resolve("test.c"),
        program
            .replace("@CODE@", code(of, names))
            .replace("@TABLE@", table)
            .replace("@OF@", names.method(of)));
    for (String level : List.of("-O0", "-O2")) {
      List<String> gcc =
          List.of("gcc", "-std=c99", level, "-ffp-contract=off", "-o", "test", "test.c");
      assertEquals(new Outcome(0, ""), Exported.start(dir, gcc));
      Outcome outcome = Exported.start(dir, List.of("./test"));
      assertEquals(expected.toString().strip(), outcome.text(), level);
    }
  }

  /** A method and all that it reaches, with the helpers of the export. */
  private static String code(Method entry, Names names) {
    ClassFiles files = new ClassFiles();
    Program program = new Program(files, List.of(), List.of(entry), List.of());
    Recursion.refuse(program);
    DataWriter data = new DataWriter(program, names, new Constness(program, List.of()));
    String helpers = Firmware.resource("stopwell.c");
    StringBuilder text = new StringBuilder("#include <stddef.h>\n#include <stdint.h>\n");
    text.append("#define LENGTH(array) (((const int32_t *)(array))[-2])\n");
    text.append(data.structures()).append(data.declaredConstants());
    text.append(
        helpers
            .substring(0, helpers.indexOf("@CONSTANTS@"))
            .replaceAll("#include \"stopwell[a-z_]*.h\"", ""));
    text.append(data.constants());
    for (Method method : program.methods().keySet()) {
      boolean isStatic = (files.body(method).access & Opcodes.ACC_STATIC) != 0;
      text.append(MethodWriter.declaration(names, method, isStatic)).append(";\n");
    }
    for (Method method : program.methods().keySet()) {
      text.append(MethodWriter.write(program, names, method));
    }
    return text.toString();
  }

  @ParameterizedTest
  @CsvSource({
    "allocates, (I)I, makes an array",
    "makes, ()Ljava/lang/Object;, makes an object of java/lang/Object",
    "recurses, (I)I, calls itself",
    "catches, '(II)I', catches an exception",
    "counts, ()I, is written by a step",
    "asks, ()J, calls java/lang/System.nanoTime",
    "computes, (D)D, calls java/lang/Math.sin",
  })
  void whatAStepMustNotDoIsRefused(String name, String descriptor, String why) {
    Method method = new Method(SAMPLE + "Forbidden", name, descriptor);
    IllegalStateException e =
        assertThrows(IllegalStateException.class, () -> code(method, new Names()));
    assertTrue(String.valueOf(e.getMessage()).contains(why), e.getMessage());
  }
}
