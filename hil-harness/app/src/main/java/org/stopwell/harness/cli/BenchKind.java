package org.stopwell.harness.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * A kind of bench.
 *
 * @param word its word for {@code --bench}
 * @param physical whether canal and motor are hardware, and it goes by the clock
 * @param attached whether it is at a port, so that there is one of it
 */
record BenchKind(String word, boolean physical, boolean attached) {
  static final BenchKind VIRTUAL = new BenchKind("virtual", false, false);
  static final BenchKind EMULATED = new BenchKind("emulated", false, false);
  static final BenchKind SERIAL = new BenchKind("serial", true, true);
  static final BenchKind BOARDS = new BenchKind("boards", true, true);
  static final BenchKind PI = new BenchKind("pi", true, true);
  static final BenchKind DUT = new BenchKind("dut", false, true);

  private static final List<BenchKind> BUILT_IN =
      List.of(VIRTUAL, EMULATED, SERIAL, BOARDS, PI, DUT);

  static boolean isBuiltIn(String word) {
    return BUILT_IN.stream().anyMatch(kind -> kind.word.equals(word));
  }

  /** The kind of a word, with the kinds of extensions. */
  static BenchKind of(String written, Extensions extensions) throws UsageException {
    List<BenchKind> all = new ArrayList<>(BUILT_IN);
    extensions
        .benches()
        .forEach((word, own) -> all.add(new BenchKind(word, !own.simulated(), !own.simulated())));
    String word = written.toLowerCase(Locale.ROOT);
    return all.stream()
        .filter(kind -> kind.word.equals(word))
        .findFirst()
        .orElseThrow(
            () ->
                new UsageException(
                    "--bench "
                        + written
                        + " is not one of "
                        + String.join(", ", all.stream().map(BenchKind::word).toList())
                        + "; a bench of your own needs --extensions"));
  }

  /** Whether it came with an extension. */
  boolean isOwn() {
    return !BUILT_IN.contains(this);
  }
}
