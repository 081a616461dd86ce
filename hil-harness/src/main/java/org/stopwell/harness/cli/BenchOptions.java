package org.stopwell.harness.cli;

import org.jspecify.annotations.Nullable;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.board.EmulatedBench;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.virtual.VirtualBench;
import picocli.CommandLine.Option;

/** Which bench a command uses. */
final class BenchOptions {
  /** Control period of the benches without a board of their own, ns. */
  static final long PERIOD_NS = 1_000_000;

  enum Kind {
    VIRTUAL,
    EMULATED,
    SERIAL
  }

  @Option(
      names = "--bench",
      paramLabel = "KIND",
      description =
          "virtual: physics in this program, much faster than real time (the default).%n"
              + "emulated: the same physics behind the wire protocol and a pseudo-terminal.%n"
              + "serial: a board at --port.",
      defaultValue = "virtual")
  Kind kind = Kind.VIRTUAL;

  @Option(
      names = "--port",
      paramLabel = "PORT",
      description = "Serial port of the board, such as /dev/ttyUSB0.")
  @Nullable String port;

  /** Makes benches of the kind asked for. */
  BenchMaker maker() throws UsageException {
    if (kind == Kind.SERIAL && port == null) {
      throw new UsageException("--bench serial needs --port");
    }
    if (kind != Kind.SERIAL && port != null) {
      throw new UsageException("--port goes with --bench serial");
    }
    return switch (kind) {
      case VIRTUAL -> () -> opened(new VirtualBench(PERIOD_NS));
      case EMULATED -> () -> opened(EmulatedBench.lockstep(PERIOD_NS));
      case SERIAL -> () -> opened(serial());
    };
  }

  /** How many trials may run at once. */
  int jobs(@Nullable Integer asked) throws UsageException {
    if (asked == null) {
      return kind == Kind.SERIAL ? 1 : Runtime.getRuntime().availableProcessors();
    }
    if (!(asked >= 1 && asked <= 1024)) {
      throw new UsageException("--jobs " + asked + " is outside 1 to 1024");
    }
    if (kind == Kind.SERIAL && asked > 1) {
      throw new UsageException("--jobs " + asked + ": one board runs one trial at a time");
    }
    return asked;
  }

  private Bench serial() {
    SerialLink link = new SerialLink(java.util.Objects.requireNonNull(port), SerialLink.BAUD);
    return new SerialBench(link, "serial", null);
  }

  private static Bench opened(Bench bench) throws BenchException {
    bench.open();
    return bench;
  }
}
