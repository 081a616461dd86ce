package org.stopwell.rig.firmware;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;

/** The canal board's binary in the emulator: its port, its relays and its stage. */
public final class EmulatedCanalBoard implements AutoCloseable {
  private static final long PATIENCE_S = 20;

  private final Process process;
  private final Writer commands;
  private final LinkedBlockingQueue<String> events = new LinkedBlockingQueue<>();
  private final String port;

  /** A board that has just been plugged in. */
  public EmulatedCanalBoard() throws IOException, InterruptedException {
    process =
        new ProcessBuilder(
                Firmware.file("emulator").toString(), Firmware.file("canal-board.elf").toString())
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
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
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  public String port() {
    return port;
  }

  /** Tells the emulator something. */
  public void tell(String command) throws IOException {
    commands.write(command + "\n");
    commands.flush();
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

  /** All events up to and with the first that begins so. */
  public List<String> until(String beginning) throws InterruptedException {
    List<String> seen = new ArrayList<>();
    String event;
    do {
      event = events.poll(PATIENCE_S, TimeUnit.SECONDS);
      if (event == null) {
        throw new AssertionError(
            "no event " + beginning + " in " + PATIENCE_S + " s after " + seen);
      }
      seen.add(event);
    } while (!event.startsWith(beginning));
    return seen;
  }

  /** Brings the stage to its home switch and off it again. */
  public void home() throws IOException, InterruptedException {
    tell("home 1");
    tell("move 8");
    await("stage ");
    tell("home 0");
  }

  /** Moves the stage; what the relays did on the way. */
  public List<Integer> move(int steps) throws IOException, InterruptedException {
    forget();
    tell("move " + steps);
    return until("stage ").stream()
        .filter(event -> event.startsWith("word "))
        .map(event -> Integer.parseInt(event.substring("word ".length()), 16))
        .toList();
  }

  @Override
  public void close() {
    process.destroy();
  }
}
