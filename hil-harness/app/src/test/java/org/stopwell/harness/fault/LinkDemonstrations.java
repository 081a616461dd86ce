package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.stopwell.harness.fault.Demonstration.AS_PLANNED;
import static org.stopwell.harness.fault.Demonstration.NO_MOTION;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.harness.fault.Demonstration.Came;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.board.EmulatedBench;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.serial.BoardSearch;
import org.stopwell.rig.serial.Link;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.ExchangeFields;
import org.stopwell.rig.wire.FrameReader;
import org.stopwell.rig.wire.FrameWriter;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;
import org.stopwell.rig.wire.Refusal;

/** Trouble with cables, ports and boards, by the real serial library on pseudo-terminals. */
final class LinkDemonstrations {
  private static final long MS = 1_000_000;
  private static final long SEED = 20260101;

  private LinkDemonstrations() {}

  /** How long a silent host leaves the motor its power: the longest gap that a board allows. */
  static Came aSilentHost(Path directory) throws Exception {
    ControllerInput reading = new ControllerInput();
    try (EmulatedBench bench = EmulatedBench.lockstep(MS)) {
      bench.open();
      for (long gapNs = MS; ; gapNs += MS) {
        bench.mount(Scene.of(Map.of(), 1));
        bench.exchange(MS, forward(), reading);
        try {
          bench.exchange(MS + gapNs, forward(), reading);
        } catch (BenchException e) {
          return new Came(Verdict.RIG_FAULT.name(), e.fault().name(), gapNs - MS, "");
        }
      }
    }
  }

  /** The board is plugged in again, and another stands where it was. */
  static Came anotherPortName(Path directory) throws Exception {
    String before;
    try (EmulatedBoard board = board("S-0001")) {
      before = board.portName();
    }
    try (EmulatedBoard other = board("S-0002");
        EmulatedBoard again = board("S-0001")) {
      assertNotEquals(before, again.portName());
      String found =
          BoardSearch.find("S-0001", List.of(other.portName(), again.portName()), SerialLink.BAUD);
      assertEquals(again.portName(), found);
      TrialResult result =
          trial(new SerialBench(new SerialLink(found, SerialLink.BAUD), "serial", "S-0001"));
      return new Came(result.verdict().name(), "", AS_PLANNED, "found at its other port");
    }
  }

  static Came aBoardThatIsNotThere(Path directory) throws Exception {
    try (EmulatedBoard other = board("S-0002")) {
      BenchException e =
          assertThrows(
              BenchException.class,
              () -> BoardSearch.find("S-0001", List.of(other.portName()), SerialLink.BAUD));
      assertTrue(e.toString().contains("S-0002"), "what was found is listed: " + e);
      return neverBegun(e);
    }
  }

  static Came swappedAdapters(Path directory) throws Exception {
    try (EmulatedBoard other = board("S-0002");
        SerialBench bench =
            new SerialBench(
                new SerialLink(other.portName(), SerialLink.BAUD), "serial", "S-0001")) {
      return neverBegun(assertThrows(BenchException.class, bench::open));
    }
  }

  /** Also a second campaign on one bench: the bench is its port. */
  static Came aBusyPort(Path directory) throws Exception {
    try (EmulatedBoard board = board("S-0001");
        SerialBench first =
            new SerialBench(new SerialLink(board.portName(), SerialLink.BAUD), "serial", null)) {
      first.open();
      Program program = new Program(directory);
      int code = program.run("--bench", "serial", "--port", board.portName());
      assertFalse(Files.exists(program.run), "nothing was begun");
      return new Came(Program.verdict(code), program.code(), "");
    }
  }

  /** A command that reaches a board after its reset, before anybody has greeted it. */
  static Came aCommandBeforeTheGreeting(Path directory) throws Exception {
    try (EmulatedBoard board = board("S-0001")) {
      Packet answer = askWithoutGreeting(board);
      assertEquals(Message.ERROR, answer.message());
      Refusal refusal = Refusal.values()[answer.integer(Message.ERROR.index("code"))];
      try (SerialBench bench =
          new SerialBench(new SerialLink(board.portName(), SerialLink.BAUD), "serial", null)) {
        bench.open();
        bench.mount(Scene.of(Map.of(), 1));
        bench.exchange(MS, new ControllerOutput(), new ControllerInput());
        assertEquals(0, bench.truth().speedMilliRpm);
      }
      return new Came("refused", refusal.name(), "");
    }
  }

  private static Packet askWithoutGreeting(EmulatedBoard board) throws Exception {
    SerialLink link = new SerialLink(board.portName(), SerialLink.BAUD);
    link.open();
    try {
      FrameWriter writer = new FrameWriter();
      Packet command = new Packet().begin(Message.EXCHANGE, 1, 1);
      ExchangeFields.put(command, 500 * MS, forward());
      link.write(writer.bytes(), writer.write(command));
      FrameReader reader = new FrameReader();
      byte[] chunk = new byte[FrameWriter.MAX_FRAME_BYTES];
      Deadline deadline = Deadline.in(10_000 * MS);
      while (!deadline.passed()) {
        int length = link.read(chunk, deadline);
        for (int i = 0; i < length; i++) {
          if (reader.take(chunk[i])) {
            return reader.packet();
          }
        }
      }
      throw new AssertionError("no answer");
    } finally {
      link.close();
    }
  }

  /** Nothing but chance comes from a port, without an end. */
  static Came aBabblingBoard(Path directory) throws Exception {
    Babble babble = new Babble();
    try (SerialBench bench = new SerialBench(babble, "serial", null)) {
      Came came = neverBegun(assertThrows(BenchException.class, bench::open));
      assertTrue(babble.bytes > 10_000, babble.bytes + " bytes");
      return came;
    }
  }

  private static final class Babble implements Link {
    private final SplittableRandom random = new SplittableRandom(SEED);
    private long bytes;

    @Override
    public String name() {
      return "babble, seed " + SEED;
    }

    @Override
    public void open() {}

    @Override
    public void write(byte[] written, int length) {}

    @Override
    public int read(byte[] into, Deadline deadline) {
      MachineClock.waitNs(MS); // about as fast as a line
      random.nextBytes(into);
      bytes += into.length;
      return into.length;
    }

    @Override
    public void forgetInput() {}

    @Override
    public void close() {}
  }

  private static Came neverBegun(BenchException e) throws Exception {
    TrialResult result = TrialRunner.neverBegun(sound(TestPlans.quick(1)), e);
    return new Came(result.verdict().name(), result.code(), NO_MOTION, "");
  }

  private static TrialResult trial(Bench bench) throws Exception {
    Plan plan = TestPlans.quick(1);
    try (bench) {
      bench.open();
      return new TrialRunner(bench, plan.settings().controller())
          .run(sound(plan), null, () -> Pace.lockstep(MS), () -> false)
          .orElseThrow();
    }
  }

  private static TrialSpec sound(Plan plan) {
    return plan.trial(0).condition().equals("sound") ? plan.trial(0) : plan.trial(1);
  }

  static EmulatedBoard board(String serialNumber) throws Exception {
    return board(serialNumber, true);
  }

  /** A lockstep board that identifies itself as physical, if so chosen. */
  static EmulatedBoard board(String serialNumber, boolean simulated) throws Exception {
    Packet identity = new Packet().begin(Message.IDENTITY, 1, 1);
    EmulatedBoard.identity(true, MS).put(identity);
    identity.set(Message.IDENTITY.index("serial_number"), serialNumber);
    identity.set(Message.IDENTITY.index("simulated"), simulated);
    return EmulatedBoard.start(BoardIdentity.get(identity), 0);
  }

  private static ControllerOutput forward() {
    ControllerOutput command = new ControllerOutput();
    command.drive = Drive.FORWARD;
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 6000;
    return command;
  }
}
