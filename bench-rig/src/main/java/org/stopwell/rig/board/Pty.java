package org.stopwell.rig.board;

import com.sun.jna.LastErrorException;
import com.sun.jna.Native;
import java.io.IOException;

/**
 * A Linux pseudo-terminal: what is written here arrives at a serial port that any program can open.
 *
 * <p>One slave descriptor is opened once, made raw and kept. Without it a read here fails as long
 * as no program has the port open.
 */
final class Pty implements AutoCloseable {
  private static final int O_RDWR = 2;
  private static final int O_NOCTTY = 0x100;
  private static final int O_NONBLOCK = 0x800;
  private static final int O_CLOEXEC = 0x80000;
  private static final int TERMIOS_BYTES = 128;
  private static final int TCSANOW = 0;
  private static final int NAME_BYTES = 128;
  private static final int POLLIN = 1;
  private static final int EINTR = 4;
  private static final int EAGAIN = 11;

  private final int master;
  private final int keptSlave;
  private final String name;

  /** A struct pollfd of poll(2): descriptor, then what to wait for in the low half. */
  private final int[] pollFd;

  private boolean open = true;

  /** The C library. Each call throws when it returns -1. */
  private static final class C {
    static {
      Native.register(C.class, "c");
    }

    static native int posix_openpt(int flags) throws LastErrorException;

    static native int grantpt(int fd) throws LastErrorException;

    static native int unlockpt(int fd) throws LastErrorException;

    static native int ptsname_r(int fd, byte[] name, long length) throws LastErrorException;

    static native int open(byte[] path, int flags) throws LastErrorException;

    static native int tcgetattr(int fd, byte[] termios) throws LastErrorException;

    static native void cfmakeraw(byte[] termios);

    static native int tcsetattr(int fd, int when, byte[] termios) throws LastErrorException;

    static native int poll(int[] fds, long count, int timeoutMs) throws LastErrorException;

    static native long read(int fd, byte[] into, long length) throws LastErrorException;

    static native long write(int fd, byte[] from, long length) throws LastErrorException;

    static native int close(int fd) throws LastErrorException;
  }

  Pty() throws IOException {
    try {
      master = C.posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC | O_NONBLOCK);
      C.grantpt(master);
      C.unlockpt(master);
      byte[] path = new byte[NAME_BYTES];
      C.ptsname_r(master, path, path.length);
      name = Native.toString(path);
      keptSlave = C.open(path, O_RDWR | O_NOCTTY | O_CLOEXEC);
      byte[] termios = new byte[TERMIOS_BYTES];
      C.tcgetattr(keptSlave, termios);
      C.cfmakeraw(termios);
      C.tcsetattr(keptSlave, TCSANOW, termios);
    } catch (LastErrorException e) {
      throw new IOException("cannot make a pseudo-terminal: " + e.getMessage(), e);
    }
    pollFd = new int[] {master, POLLIN};
  }

  /** The port to open at the other end, such as {@code /dev/pts/3}. */
  String name() {
    return name;
  }

  /** Bytes read, 0 when none came in time. For one thread only. */
  int read(byte[] into, int timeoutMs) throws IOException {
    try {
      return C.poll(pollFd, 1, timeoutMs) == 0 ? 0 : (int) C.read(master, into, into.length);
    } catch (LastErrorException e) {
      if (e.getErrorCode() == EINTR || e.getErrorCode() == EAGAIN) {
        return 0;
      }
      throw new IOException(name + ": " + e.getMessage(), e);
    }
  }

  /** Sends bytes. What the other side leaves no room for is lost, as on a wire. */
  void write(byte[] from, int length) throws IOException {
    try {
      C.write(master, from, length);
    } catch (LastErrorException e) {
      if (e.getErrorCode() != EAGAIN) {
        throw new IOException(name + ": " + e.getMessage(), e);
      }
    }
  }

  /** For the thread that reads, after its last read: whoever has the port open sees it vanish. */
  @Override
  public void close() {
    if (open) {
      open = false;
      C.close(keptSlave);
      C.close(master);
    }
  }
}
