package org.stopwell.rig.serial;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.wire.BoardIdentity;

/**
 * Asks every port who is there. A board is known by its serial number: the name of a port changes
 * with the order of plugging in.
 *
 * <p>To ask opens a session, so a board that serves another host lets that one go.
 */
public final class BoardSearch {
  private static final long LIMIT_NS = 5_000_000_000L;
  private static final long LOOK_NS = 10_000_000;

  private BoardSearch() {}

  /**
   * What a port answered.
   *
   * @param port its name
   * @param board who is there, or null
   * @param why the cause code when there is no board, else empty
   */
  public record Answer(String port, @Nullable BoardIdentity board, String why) {
    /**
     * One line for people.
     *
     * @return port, and board or cause
     */
    public String line() {
      BoardIdentity there = board;
      return there == null
          ? port + ": " + why
          : "%s: %s %s, %s %s %s"
              .formatted(
                  port,
                  there.board(),
                  there.serialNumber(),
                  there.firmware(),
                  there.firmwareVersion(),
                  there.firmwareHash())
              .strip();
    }
  }

  /**
   * Asks ports, all at once, for 5 s at most.
   *
   * @param ports their names
   * @param baud speed of the lines, bits per second
   * @return one answer for each, in their order
   */
  public static List<Answer> ask(List<String> ports, int baud) {
    Answer[] answers = new Answer[ports.size()];
    List<Thread> threads = new ArrayList<>();
    for (int i = 0; i < answers.length; i++) {
      int at = i;
      answers[at] = new Answer(ports.get(at), null, RigFault.NO_ANSWER.name());
      Thread thread = new Thread(() -> answers[at] = ask(ports.get(at), baud), "ask " + at);
      thread.setDaemon(true);
      thread.start();
      threads.add(thread);
    }
    long endNs = MachineClock.nowNs() + LIMIT_NS;
    while (threads.stream().anyMatch(Thread::isAlive) && MachineClock.nowNs() < endNs) {
      MachineClock.waitNs(LOOK_NS);
    }
    return List.of(answers);
  }

  private static Answer ask(String port, int baud) {
    SerialBench bench = new SerialBench(new SerialLink(port, baud), "serial", null);
    try {
      bench.open();
      return new Answer(port, bench.identity(), "");
    } catch (BenchException e) {
      return new Answer(port, null, e.fault().name());
    } finally {
      bench.close();
    }
  }

  /**
   * Finds a board.
   *
   * @param serialNumber of the board
   * @param ports where to look
   * @param baud speed of the lines, bits per second
   * @return the name of its port
   * @throws BenchException {@code PORT_MISSING}, with all that was found, when it is at none of
   *     them or at more than one
   */
  public static String find(String serialNumber, List<String> ports, int baud)
      throws BenchException {
    List<Answer> answers = ask(ports, baud);
    List<Answer> right = new ArrayList<>();
    for (Answer answer : answers) {
      BoardIdentity there = answer.board();
      if (there != null && there.serialNumber().equals(serialNumber)) {
        right.add(answer);
      }
    }
    if (right.size() == 1) {
      return right.get(0).port();
    }
    throw new BenchException(
        RigFault.PORT_MISSING,
        (right.isEmpty() ? "no board " : right.size() + " boards ")
            + serialNumber
            + (answers.isEmpty()
                ? ": this machine has no serial port"
                : "; found: "
                    + answers.stream().map(Answer::line).collect(Collectors.joining("; "))));
  }
}
