package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Station;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.standing.Freezing;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchAddress;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchExtension;
import org.stopwell.rig.board.EmulatedBench;
import org.stopwell.rig.dut.DutBench;
import org.stopwell.rig.fault.FaultyBench;
import org.stopwell.rig.pi.PiBench;
import org.stopwell.rig.pi.PiStation;
import org.stopwell.rig.serial.BoardSearch;
import org.stopwell.rig.serial.BoardsBench;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.serial.SerialPorts;
import org.stopwell.rig.virtual.VirtualBench;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Which bench a command uses. */
final class BenchOptions {
  /** Control period of the benches without a board of their own, ns. */
  static final long PERIOD_NS = 1_000_000;

  private static final String BOARD = "board:";

  @Option(
      names = "--bench",
      paramLabel = "KIND",
      description =
          "virtual: simulated in this program, much faster than real time"
              + " (default).%nemulated: the same simulation behind the wire protocol and a"
              + " pseudo-terminal.%nserial: a board at --port.%nboards: a canal board at --port"
              + " and a drive board with motor and stage at --drive-port.%npi: a motor at the"
              + " pins of this Raspberry Pi, described by --station, and a canal board at --port."
              + "%ndut: a board at --port that holds the exported controller and decides; canal,"
              + " motor and hand are simulated."
              + "%nOr the name of a bench of --extensions.",
      defaultValue = "virtual")
  String bench = BenchKind.VIRTUAL.word();

  @Spec(Spec.Target.MIXEE)
  @Nullable CommandSpec mixee;

  /** Set where no command line says which extensions there are. */
  @Nullable Extensions given;

  @Mixin BoardPorts at = new BoardPorts();

  @Option(
      names = "--baud",
      paramLabel = "N",
      description = "Speed of the serial line, bits per second.",
      defaultValue = "" + SerialLink.BAUD)
  int baud = SerialLink.BAUD;

  @Option(
      names = "--real-time",
      description =
          "With --bench emulated: run in real time at --baud, not as fast as this machine"
              + " can.")
  boolean realTime;

  /** The kind of bench that a run was made on. */
  static BenchOptions of(RunHeader header, Path directory, Extensions extensions, BoardPorts at)
      throws UsageException {
    BenchOptions options = new BenchOptions();
    options.given = extensions;
    options.bench = FaultyBench.soundKind(header.bench().kind());
    try {
      options.kind();
    } catch (UsageException e) {
      throw new UsageException(directory + ": " + e.getMessage());
    }
    options.at = at;
    options.realTime = options.kind().equals(BenchKind.EMULATED) && !header.bench().lockstep();
    return options;
  }

  /** The selected kind of bench. */
  BenchKind kind() throws UsageException {
    return BenchKind.of(bench, extensions());
  }

  private Extensions extensions() throws UsageException {
    return given != null ? given : mixee == null ? Extensions.NONE : Main.extensions(mixee);
  }

  /** Makes benches of the selected kind. */
  BenchMaker maker() throws UsageException, PlanException {
    return maker(null);
  }

  /** Makes benches of the selected kind; a serial bench must have that serial number. */
  BenchMaker maker(@Nullable String serialNumber) throws UsageException, PlanException {
    BenchKind kind = kind();
    if (kind.attached() && !kind.isOwn() && at.port == null) {
      throw new UsageException("--bench " + kind.word() + " needs --port");
    }
    if (!kind.attached() && !kind.isOwn() && at.port != null) {
      throw new UsageException(
          "--port goes with --bench serial, --bench boards, --bench pi and --bench dut");
    }
    if (!kind.isOwn() && kind.equals(BenchKind.BOARDS) != (at.drivePort != null)) {
      throw new UsageException("--bench boards and --drive-port go together");
    }
    if (!kind.isOwn() && kind.equals(BenchKind.PI) != (at.station != null)) {
      throw new UsageException("--bench pi and --station go together");
    }
    if (realTime && !kind.equals(BenchKind.EMULATED)) {
      throw new UsageException("--real-time goes with --bench emulated");
    }
    Range.check("--baud", baud, 1_200, 12_000_000);
    BenchExtension own = extensions().benches().get(kind.word());
    if (own != null) {
      return () -> own(own);
    }
    return switch (kind.word()) {
      case "virtual" -> () -> opened(new VirtualBench(PERIOD_NS));
      case "emulated" ->
          () ->
              opened(
                  realTime
                      ? EmulatedBench.realTime(PERIOD_NS, baud)
                      : EmulatedBench.lockstep(PERIOD_NS));
      case "serial" -> () -> opened(serial(at.port, serialNumber));
      case "boards" ->
          () -> opened(new BoardsBench(serial(at.port, null), serial(at.drivePort, null)));
      case "dut" ->
          () ->
              opened(
                  new DutBench(
                      new VirtualBench(PERIOD_NS),
                      Arrays.stream(Objects.requireNonNull(at.port).split(","))
                          .map(port -> new SerialLink(port.strip(), baud))
                          .toList(),
                      new FirmwareBuilds()));
      default -> {
        PiStation pins = Station.read(Source.of(Objects.requireNonNull(at.station))).pi();
        yield () -> opened(new PiBench(pins, serial(at.port, serialNumber)));
      }
    };
  }

  /** A bench of an extension. A run file names it by its kind, so kind and word must agree. */
  private Bench own(BenchExtension extension) throws BenchException {
    Bench opened =
        opened(
            extension.make(
                new BenchAddress(
                    PERIOD_NS,
                    Optional.ofNullable(at.port),
                    Optional.ofNullable(at.drivePort),
                    Optional.ofNullable(at.station),
                    baud)));
    String kind = opened.describe().kind();
    if (!kind.equals(extension.name())) {
      opened.close();
      throw new BenchException(
          BenchException.RigFault.REFUSED,
          "--bench " + extension.name() + ": the bench describes itself as " + kind);
    }
    return opened;
  }

  /** The bench in a few words, for people. */
  String sentence() throws UsageException {
    return word()
        + (kind().physical() ? "" : ", simulated")
        + (at.port == null ? "" : ", at " + at.port)
        + (at.drivePort == null ? "" : " and " + at.drivePort)
        + (at.station == null ? "" : ", station " + at.station);
  }

  /** The kind as it is written. */
  String word() {
    return bench.toLowerCase(Locale.ROOT);
  }

  /** A plan as it would run with these options. */
  Freezing freezing(Path file, Plan plan, Map<String, String> bench) throws PlanException {
    Station pins = at.station == null ? null : Station.read(Source.of(at.station));
    return new Freezing(file, plan, pins, word(), Build.identity(), bench);
  }

  /** The number of trials that run at the same time. */
  int jobs(@Nullable Integer asked) throws UsageException {
    boolean alone = kind().attached() || realTime;
    if (asked == null) {
      return alone ? 1 : Runtime.getRuntime().availableProcessors();
    }
    Range.check("--jobs", asked, 1, 1024);
    if (alone && asked > 1) {
      throw new UsageException(
          "--jobs "
              + asked
              + ": a bench at a port or in real time runs one trial at a time; use --jobs 1");
    }
    return asked;
  }

  private SerialBench serial(@Nullable String where, @Nullable String serialNumber)
      throws BenchException {
    return boardAt(Objects.requireNonNull(where), baud, serialNumber);
  }

  /** A board at a port; with board: before it, the port is that of the board. */
  static SerialBench boardAt(String where, int baud, @Nullable String serialNumber)
      throws BenchException {
    String name = where;
    String wanted = serialNumber;
    if (name.startsWith(BOARD)) {
      wanted = name.substring(BOARD.length());
      List<String> ports = SerialPorts.list().stream().map(SerialPorts.PortInfo::name).toList();
      name = BoardSearch.find(wanted, ports, baud);
    }
    return new SerialBench(new SerialLink(name, baud), "serial", wanted);
  }

  private static Bench opened(Bench bench) throws BenchException {
    bench.open();
    return bench;
  }
}
