package org.stopwell.rig.serial;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Consumer;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.bench.ProgramEnd;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.network.ChainParts;
import org.stopwell.rig.network.StepTable;
import org.stopwell.rig.virtual.ToothChain;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.DeviceFields;
import org.stopwell.rig.wire.DeviceFields.Network;
import org.stopwell.rig.wire.ExchangeFields;
import org.stopwell.rig.wire.FrameWriter;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;
import org.stopwell.rig.wire.ReadingFields;

/** The bench at the other end of a serial link, by the wire protocol. */
public final class SerialBench implements Bench {
  /** Damaged frames allowed in one trial (assumed). */
  public static final int BAD_FRAME_LIMIT = 20;

  /** Long enough for a board whose reset line is tied to the port's control lines (assumed). */
  private static final long HELLO_LIMIT_NS = 3_000_000_000L;

  private static final int HELLO_TRIES = 12;

  /** While the motor is off nothing is lost by waiting for a busy machine, ns (assumed). */
  private static final long REST_LIMIT_NS = 2_000_000_000L;

  private static final int TRIES = 4;

  /** Before a board has measured a chain. */
  private static final Network NOTHING = new Network(ChainParts.NOMINAL, 0, 0, 0, "not measured");

  /** Another thread gives way after a quarter of the longest wait that is not HELLO's, 500 ms. */
  private static final long STOP_LOCK_MS = 2_000;

  private static final int HELLO_PROTOCOL = Message.HELLO.index("protocol");
  private final Link link;
  private final String kind;
  private final @Nullable String wantedSerialNumber;
  private final int patience;
  private final Dialogue dialogue;
  private final Truth truth = new Truth();
  private final ReentrantLock lock = new ReentrantLock();
  private @Nullable BoardIdentity identity;
  private final List<Watched> watched = new ArrayList<>();
  private double[] hertz = new double[0];
  private boolean held;
  private boolean watching;
  private boolean exchanged;
  private Network verified = NOTHING;
  private boolean mounted;
  private long badAtMount;

  /**
   * A bench that is not yet open.
   *
   * @param link the line to its board
   * @param kind the word given to {@code --bench}
   * @param wantedSerialNumber the only board that will do, or null for any
   */
  public SerialBench(Link link, String kind, @Nullable String wantedSerialNumber) {
    this(link, kind, wantedSerialNumber, 1);
  }

  /**
   * A bench that is not yet open, whose board may be slow: an emulated one has no more time than
   * this machine gives it.
   *
   * @param link the line to its board
   * @param kind the word given to {@code --bench}
   * @param wantedSerialNumber the only board that will do, or null for any
   * @param patience how many times as long as usual to wait for it, 1 or more
   */
  public SerialBench(Link link, String kind, @Nullable String wantedSerialNumber, int patience) {
    this.link = link;
    this.kind = kind;
    this.wantedSerialNumber = wantedSerialNumber;
    this.patience = patience;
    this.dialogue = new Dialogue(link, patience);
  }

  @Override
  public BenchDescription describe() {
    BoardIdentity board = identity;
    return board == null
        ? new BenchDescription(kind, "", "", false, false, 0)
        : new BenchDescription(
            kind,
            board.serialNumber(),
            (board.firmware() + " " + board.firmwareVersion() + " " + board.firmwareHash()).strip(),
            board.simulated(),
            board.lockstep(),
            board.periodNs());
  }

  @Override
  public List<Lack> lacks() {
    BoardIdentity board = identity;
    if (board == null) {
      return List.of();
    }
    return BoardCheck.lacks(board, name() + ": " + board.board() + " " + board.serialNumber());
  }

  @Override
  public void open() throws BenchException {
    lock.lock();
    try {
      ProgramEnd.opening(this);
      link.open();
      dialogue.newSession();
      dialogue.patience(HELLO_LIMIT_NS, HELLO_TRIES);
      dialogue.request(Message.HELLO).set(HELLO_PROTOCOL, FrameWriter.PROTOCOL);
      BoardIdentity board = BoardIdentity.get(dialogue.ask(Message.IDENTITY));
      BoardCheck.identity(board, name(), wantedSerialNumber);
      identity = board;
      mounted = false;
    } catch (BenchException e) {
      link.close();
      ProgramEnd.closed(this);
      throw e;
    } finally {
      lock.unlock();
    }
  }

  @Override
  public void mount(Scene scene) throws BenchException {
    lock.lock();
    try {
      BoardIdentity board = needOpen();
      dialogue.patience(Math.max(REST_LIMIT_NS, board.silenceNs()), TRIES);
      mounted = false;
      watching = false;
      exchanged = false;
      watched.clear();
      List<StepTable.Step> steps = SceneSender.steps(scene, board);
      SceneSender.ShownChain shown = shown(scene, board);
      SceneSender.send(dialogue, link, scene, steps, shown);
      dialogue.request(Message.MOUNT_END);
      hertz = FrontEndSection.hertz(scene.section("front_end"));
      ReadingFields.get(consistent(BoardCheck.accept(link, dialogue.ask(Message.READING))), truth);
      mounted = true;
      watching = !shown.places().isEmpty() || (board.simulated() && held);
      badAtMount = dialogue.counts().received().bad();
    } finally {
      lock.unlock();
    }
  }

  /**
   * A board with a chain gets resistances by position. It measures the chain first, with the device
   * off it: also what it was at the end of the trial before. A simulated board plays any canal by
   * itself, and its chain is judged with the trial.
   */
  private SceneSender.ShownChain shown(Scene scene, BoardIdentity board) throws BenchException {
    if (board.simulated() && held) {
      verified = verify();
      return SceneSender.ShownChain.NONE;
    }
    boolean plays = board.hasPosition() && !board.simulated() && BoardCheck.mayWatch(board);
    if (!plays || !ToothChain.isWantedBy(scene)) {
      return SceneSender.ShownChain.NONE;
    }
    Network network = verify();
    verified = network;
    if (!network.fault().isEmpty()) {
      throw new BenchException(RigFault.REFUSED, name() + ": the chain: " + network.fault());
    }
    ToothChain.Fit fit = ToothChain.of(scene, network.parts());
    return new SceneSender.ShownChain(
        fit.capacitors(), fit.table().thinned(network.mostPlaces(), fit.chain()).places());
  }

  /**
   * Takes the device off the chain, until the next mount, and measures the chain.
   *
   * @return what the board found
   * @throws BenchException when the board has no chain
   */
  public Network verify() throws BenchException {
    lock.lock();
    try {
      dialogue.patience(Math.max(REST_LIMIT_NS, needOpen().silenceNs()), TRIES);
      watching = false;
      dialogue.request(Message.VERIFY);
      return DeviceFields.network(dialogue.ask(Message.NETWORK));
    } catch (IllegalArgumentException e) {
      throw new BenchException(
          RigFault.BAD_READING, name() + ": " + e.getMessage() + "; correct the calibration", e);
    } finally {
      lock.unlock();
    }
  }

  /** An exchange takes the samples while a device is watched. */
  @Override
  public Optional<DeviceWatch> deviceWatch() {
    BoardIdentity board = identity;
    if (board == null || !BoardCheck.mayWatch(board)) {
      return Optional.empty();
    }
    try {
      verified = verify();
    } catch (BenchException e) {
      return Optional.empty();
    }
    return Optional.of(new Watch());
  }

  /** What the board sees of a device. */
  private final class Watch implements DeviceWatch {
    @Override
    public void attach(ClampedDevice device) {
      held = true;
    }

    @Override
    public CircuitCheck circuit() throws BenchException {
      // The mount has verified; another look would take the device off.
      if (!watching || exchanged) {
        verified = verify();
      }
      return check(verified);
    }

    @Override
    public void drain(List<Watched> into) {
      into.addAll(watched);
      watched.clear();
    }
  }

  /** A chain that leaks or strays is closed all the same; its resistors were not measured. */
  private static CircuitCheck check(Network network) {
    CircuitCheck circuit =
        new CircuitCheck(true, network.leakKiloOhms(), network.strayPicoFarads());
    boolean closed = network.fault().isEmpty() || !circuit.floats();
    return new CircuitCheck(closed, network.leakKiloOhms(), network.strayPicoFarads());
  }

  private void watch() throws BenchException {
    boolean more = watching;
    while (more) {
      dialogue.request(Message.WATCH);
      more = DeviceFields.samples(dialogue.ask(Message.WATCHED), watched);
    }
  }

  /** Whether the trials to come are those of a device under test. */
  boolean holdsDevice() {
    return held;
  }

  /** Whether a device is watched in the mounted trial. */
  boolean watches() {
    return watching;
  }

  private Packet consistent(Packet reading) throws BenchException {
    String wrong = ReadingFields.contradiction(reading, hertz);
    if (wrong != null) {
      throw new BenchException(
          RigFault.BAD_READING, name() + ": " + wrong + "; correct the board's firmware");
    }
    return reading;
  }

  @Override
  public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
      throws BenchException {
    lock.lock();
    try {
      tell(nowNs, command);
      hear(nowNs, reading);
    } finally {
      lock.unlock();
    }
  }

  /**
   * The first half of an exchange: the board gets its command and works while other boards get
   * theirs.
   */
  void tell(long nowNs, ControllerOutput command) throws BenchException {
    lock.lock();
    try {
      dialogue.patience(needOpen().silenceNs(), TRIES);
      ExchangeFields.put(dialogue.request(Message.EXCHANGE), nowNs, command);
      dialogue.send();
    } finally {
      lock.unlock();
    }
  }

  /** The second half, with nothing between: what the board answers. */
  void hear(long nowNs, ControllerInput reading) throws BenchException {
    lock.lock();
    try {
      BoardIdentity board = needOpen();
      Packet answer = consistent(BoardCheck.accept(link, dialogue.await(Message.READING)));
      ReadingFields.get(answer, reading);
      ReadingFields.get(answer, truth);
      if (!board.lockstep() && reading.sampleTimeNs > nowNs) {
        // The board read after nowNs; for the controller a sample is never newer than its step.
        reading.sampleTimeNs = nowNs;
      }
      if (ReadingFields.watchdog(answer)) {
        throw new BenchException(
            RigFault.WATCHDOG,
            "port "
                + link.name()
                + ": the board cut the power by itself, at the latest at "
                + truth.timeNs
                + " ns; its limit is "
                + board.watchdogNs()
                + " ns without an exchange");
      }
      exchanged = true;
      watch();
      long bad = dialogue.counts().received().bad() - badAtMount;
      if (bad > BAD_FRAME_LIMIT) {
        throw new BenchException(
            RigFault.BAD_FRAMES,
            "port " + link.name() + ": " + bad + " damaged frames, limit " + BAD_FRAME_LIMIT);
      }
    } finally {
      lock.unlock();
    }
  }

  /**
   * The stage of the board, for as long as this bench is open.
   *
   * @return the stage
   * @throws BenchException when the bench is not open or the board has no stage
   */
  public LinearStage stage() throws BenchException {
    if (!needOpen().hasStage()) {
      throw new BenchException(RigFault.REFUSED, name() + ": this board has no stage");
    }
    return new SerialStage(this, patience);
  }

  /** Who its board is; null while it is not open. */
  @Nullable BoardIdentity identity() {
    return identity;
  }

  /** Whether its board has a motor; false while it is not open. */
  boolean hasMotor() {
    BoardIdentity board = identity;
    return board != null && board.hasMotor();
  }

  /** Whether its board drives a stage; false while it is not open. */
  boolean hasStage() {
    BoardIdentity board = identity;
    return board != null && board.hasStage();
  }

  /** Whether its board reports the position of the tip; false while it is not open. */
  boolean hasPosition() {
    BoardIdentity board = identity;
    return board != null && board.hasPosition();
  }

  /** One question beside the exchanges. */
  <T> T ask(Message message, Message expected, Consumer<Packet> fill, Function<Packet, T> read)
      throws BenchException {
    lock.lock();
    try {
      dialogue.patience(Math.max(REST_LIMIT_NS, needOpen().silenceNs()), TRIES);
      fill.accept(dialogue.request(message));
      return read.apply(dialogue.ask(expected));
    } finally {
      lock.unlock();
    }
  }

  /** What messages call it. */
  String name() {
    return "port " + link.name();
  }

  private BoardIdentity needOpen() throws BenchException {
    BoardIdentity board = identity;
    if (board == null) {
      throw new BenchException(RigFault.PORT_GONE, "port " + link.name() + ": it is not open");
    }
    return board;
  }

  @Override
  public Truth truth() {
    return truth;
  }

  /**
   * How well the link works.
   *
   * @return counts since this bench was made
   */
  public LinkCounts counts() {
    return dialogue.counts();
  }

  @Override
  public void safeStop() {
    stop(() -> {});
  }

  @Override
  public void close() {
    stop(
        () -> {
          link.close();
          identity = null;
        });
    ProgramEnd.closed(this);
  }

  /** Nobody else is on the line between the stop and what comes after it. */
  private void stop(Runnable then) {
    boolean locked = false;
    try {
      locked = lock.tryLock(STOP_LOCK_MS, TimeUnit.MILLISECONDS);
      if (!locked) {
        // Another thread holds the line. Silence makes the board cut the power by itself.
        link.close();
      } else if (identity != null) {
        dialogue.request(Message.SAFE_STOP);
        Packet answer = dialogue.ask(mounted ? Message.READING : Message.OK);
        if (mounted) {
          ReadingFields.get(answer, truth);
        }
      }
    } catch (BenchException e) {
      // The board does not hear us, so its watchdog cuts the power; a mount would cut it too.
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      link.close();
    } finally {
      then.run();
      if (locked) {
        lock.unlock();
      }
    }
  }
}
