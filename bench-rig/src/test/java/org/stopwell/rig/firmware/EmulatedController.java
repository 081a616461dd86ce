package org.stopwell.rig.firmware;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;

/**
 * A board's binary in the emulator, with its world around it: its port, and what the world says.
 */
public class EmulatedController implements AutoCloseable {
  /** Of a machine that does much else meanwhile. */
  private static final int SLOWER = 20;

  /** Of a machine that hangs; a busy one only takes its time. */
  private static final long PATIENCE_S = 200;

  private static final long LOOK_MS = 50;

  /**
   * Longer than a board takes to answer, 9 ms. From one exchange to the next a host may also ask
   * for the stage twice and let 20 ms go by: four such waits are still shorter than its watchdog.
   */
  private static final int PATIENT_MS = 20;

  /** With its motor off a board bears more; it leaves a stage alone after 1 s. */
  private static final int PATIENT_AT_REST_MS = 300;

  private final Process process;
  private final Writer commands;
  private final LinkedBlockingQueue<String> events = new LinkedBlockingQueue<>();
  private final String port;
  private volatile Consumer<String> listener = said -> {};

  /** A board that has just been plugged in; its name is "canal" or "drive". */
  EmulatedController(String name) throws IOException, InterruptedException {
    this(name + "-emulator", List.of(name + "-board.elf"));
  }

  /** An emulator with the boards that it holds; the port is that of the first. */
  EmulatedController(String emulator, List<String> boards)
      throws IOException, InterruptedException {
    List<String> command = new ArrayList<>(List.of(Firmware.file(emulator).toString()));
    boards.forEach(board -> command.add(Firmware.file(board).toString()));
    process = new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
    commands = new OutputStreamWriter(process.getOutputStream(), StandardCharsets.UTF_8);
    Thread reader = new Thread(this::readEvents, "emulator events");
    reader.setDaemon(true);
    reader.start();
    port = await("port ").substring("port ".length());
  }

  private void readEvents() {
    try (BufferedReader lines =
        new BufferedReader(
            new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8))) {
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        events.add(line);
        listener.accept(line);
      }
    } catch (IOException e) {
      events.add("closed: " + e.getMessage());
    }
  }

  /** Told of every event, as it comes. */
  final void listener(Consumer<String> told) {
    listener = told;
  }

  public String port() {
    return port;
  }

  /**
   * The bench that this board is by itself, not open yet; its host knows that time is short here.
   */
  public SerialBench bench(@Nullable String serialNumber) {
    return bench(port, serialNumber);
  }

  /** The bench of a board at another port of this emulator. */
  static SerialBench bench(String port, @Nullable String serialNumber) {
    return new SerialBench(new SerialLink(port, SerialLink.BAUD), "serial", serialNumber, SLOWER);
  }

  /** Tells the emulator something. */
  public synchronized void tell(String command) throws IOException {
    commands.write(command + "\n");
    commands.flush();
  }

  /**
   * From now on the board's time stands still while nobody speaks to it, so that a busy machine is
   * not a silent host.
   */
  public void waitsForItsHost() throws IOException {
    tell("wait " + PATIENT_MS);
  }

  /** The same as long as its motor is off; a stage then goes far between two questions. */
  public void waitsAtRest() throws IOException {
    tell("wait " + PATIENT_AT_REST_MS);
  }

  /** Its time goes as fast as this machine can, up to so many times as fast as ours. */
  public void hurries(int times) throws IOException {
    tell("speed " + times);
  }

  /** Lets so much of the board's time go by; earlier events are forgotten. */
  public void pass(long ms) throws IOException, InterruptedException {
    forget();
    tell("after " + ms);
    await("after");
  }

  /** The board's time is 0 now, and goes on only by {@link #until(long)} and while it answers. */
  void zero() throws IOException {
    tell("zero");
  }

  /** Lets the board's time go on to so many ms after its zero; earlier events are forgotten. */
  void until(long ms) throws IOException, InterruptedException {
    forget();
    tell("until " + ms);
    await("after");
  }

  /** Forgets what has happened so far. */
  public void forget() {
    events.clear();
  }

  /** Waits for an event that begins so; those before it are forgotten. */
  public String await(String beginning) throws InterruptedException {
    List<String> before = until(beginning);
    return before.get(before.size() - 1);
  }

  /**
   * Waits for an event that begins so, as long as what would cause it is alive; those before it are
   * forgotten.
   *
   * @return false when that has ended first
   */
  public boolean await(String beginning, BooleanSupplier alive) throws InterruptedException {
    while (true) {
      boolean last = !alive.getAsBoolean();
      String event = events.poll(last ? 0 : LOOK_MS, TimeUnit.MILLISECONDS);
      if (event == null ? last : event.startsWith(beginning)) {
        return event != null;
      }
    }
  }

  /** All events up to and with the first that begins so. */
  public List<String> until(String beginning) throws InterruptedException {
    List<String> seen = new ArrayList<>();
    String event;
    do {
      event = events.poll(PATIENCE_S, TimeUnit.SECONDS);
      if (event == null) {
        throw new AssertionError(
            "no event "
                + beginning
                + " in "
                + PATIENCE_S
                + " s after "
                + seen.subList(Math.max(0, seen.size() - 20), seen.size()));
      }
      seen.add(event);
    } while (!event.startsWith(beginning));
    return seen;
  }

  @Override
  public void close() {
    process.destroy();
  }
}
