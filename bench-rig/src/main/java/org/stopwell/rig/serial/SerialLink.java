package org.stopwell.rig.serial;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.ProgramEnd;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.time.MachineClock;

/**
 * A serial port through jSerialComm, 8N1, no flow control.
 *
 * <p>The library reports failure by return values, counts time-outs in steps of 100 ms and
 * continues calling a vanished port open. So one thread of our own reads, every return value is
 * judged here, and no caller ever waits for the library: not for a read, not for a close.
 */
public final class SerialLink implements Link {
  /** The usual speed, bits per second. */
  public static final int BAUD = 921_600;

  private static final int INBOX_BYTES = 4096;
  private static final int READ_TIMEOUT_MS = 100;
  private static final long CLOSE_LIMIT_MS = 500;
  private static final long IDLE_NS = 1_000_000;
  private static final int ERRNO_ACCESS = 13;

  /** How long to wait for the thread that fetches bytes, in looks (assumed: a busy machine). */
  private static final long FETCH_NS = 10_000_000;

  private static final int FETCH_LOOKS = 50;

  static {
    // The library closes every port in its own shutdown hook, which runs these first.
    SerialPort.addShutdownHook(new Thread(ProgramEnd::begin, "before ports close"));
  }

  private final String name;
  private final int baud;
  private @Nullable SerialPort port;
  private volatile Inbox inbox = new Inbox(INBOX_BYTES);
  private volatile boolean closing;

  /**
   * A port that is not yet open.
   *
   * @param name name of the port, such as {@code /dev/ttyUSB0} or {@code COM3}
   * @param baud speed, bits per second
   */
  public SerialLink(String name, int baud) {
    this.name = name;
    this.baud = baud;
  }

  @Override
  public String name() {
    return name;
  }

  @Override
  public synchronized void open() throws BenchException {
    SerialPort candidate;
    try {
      candidate = SerialPort.getCommPort(name);
    } catch (SerialPortInvalidPortException e) {
      throw new BenchException(RigFault.PORT_MISSING, "port " + name + ": no such port", e);
    }
    candidate.setComPortParameters(baud, 8, SerialPort.ONE_STOP_BIT, SerialPort.NO_PARITY);
    candidate.setFlowControl(SerialPort.FLOW_CONTROL_DISABLED);
    candidate.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, READ_TIMEOUT_MS, 0);
    if (!candidate.openPort(0)) {
      throw notOpened(candidate.getLastErrorCode());
    }
    port = candidate;
    closing = false;
    Inbox fresh = new Inbox(INBOX_BYTES);
    inbox = fresh;
    Thread reader = new Thread(() -> readAll(candidate, fresh), "read " + name);
    reader.setDaemon(true);
    reader.start();
  }

  private BenchException notOpened(int errno) {
    if (errno == ERRNO_ACCESS) {
      return new BenchException(
          RigFault.PORT_DENIED,
          "port "
              + name
              + ": no permission to open it; on Debian add the user to the group dialout");
    }
    if (name.startsWith("/") && !Files.exists(Path.of(name))) {
      return new BenchException(RigFault.PORT_MISSING, "port " + name + ": no such port");
    }
    return new BenchException(
        RigFault.PORT_BUSY, "port " + name + ": in use by another program (error " + errno + ")");
  }

  private void readAll(SerialPort from, Inbox into) {
    byte[] chunk = new byte[INBOX_BYTES];
    while (!closing) {
      int length = from.readBytes(chunk, chunk.length);
      if (length < 0) {
        break;
      }
      if (length == 0) {
        // Some drivers return at once instead of after the time-out: do not spin on them.
        MachineClock.waitNs(IDLE_NS);
      } else {
        into.put(chunk, length);
      }
    }
    into.end();
  }

  @Override
  public void write(byte[] bytes, int length) throws BenchException {
    SerialPort to = port;
    if (to == null) {
      throw gone();
    }
    for (int sent = 0; sent < length; ) {
      int now = to.writeBytes(bytes, length - sent, sent);
      if (now <= 0) {
        throw gone();
      }
      sent += now;
    }
  }

  @Override
  public int read(byte[] into, Deadline deadline) throws BenchException {
    try {
      int length = inbox.take(into, deadline);
      // Bytes in the port have arrived, though the thread that fetches them had no time yet.
      for (int looks = 0; length == 0 && looks < FETCH_LOOKS && hasUnread(); looks++) {
        length = inbox.take(into, Deadline.in(FETCH_NS));
      }
      if (length < 0) {
        throw gone();
      }
      return length;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new BenchException(
          RigFault.NO_ANSWER, "port " + name + ": the wait for an answer was interrupted", e);
    }
  }

  private boolean hasUnread() {
    SerialPort from = port;
    return from != null && from.bytesAvailable() > 0;
  }

  @Override
  public void forgetInput() {
    inbox.clear();
  }

  /**
   * Bytes thrown away because they came faster than they were wanted.
   *
   * @return how many since the port was opened
   */
  public long dropped() {
    return inbox.dropped();
  }

  @Override
  public synchronized void close() {
    SerialPort open = port;
    if (open == null) {
      return;
    }
    port = null;
    closing = true;
    Thread closer = new Thread(open::closePort, "close " + name);
    closer.setDaemon(true);
    closer.start();
    try {
      closer.join(CLOSE_LIMIT_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    inbox.end();
  }

  private BenchException gone() {
    return new BenchException(RigFault.PORT_GONE, "port " + name + ": it is gone");
  }
}
