package org.stopwell.harness.trace;

import java.io.IOException;
import java.io.Reader;

/**
 * A reader that gives up on a row without an end, and leaves out a byte order mark at its begin.
 */
final class BoundedReader extends Reader {
  /** Longest row, characters; assumed: every column with a long cell. */
  private static final long LONGEST_ROW = 1 << 16;

  private final Reader in;
  private long read;
  private long limit = LONGEST_ROW;

  BoundedReader(Reader in) {
    this.in = in;
  }

  /** The next row may begin. */
  void allowRow() {
    limit = read + LONGEST_ROW;
  }

  @Override
  public int read(char[] buffer, int from, int length) throws IOException {
    if (read >= limit) {
      throw new IOException("a row has more than " + LONGEST_ROW + " characters");
    }
    int n = in.read(buffer, from, length);
    if (read == 0 && n > 0 && buffer[from] == '\uFEFF') {
      System.arraycopy(buffer, from + 1, buffer, from, n - 1);
      read = n;
      return n == 1 ? in.read(buffer, from, length) : n - 1;
    }
    read += Math.max(0, n);
    return n;
  }

  @Override
  public void close() throws IOException {
    in.close();
  }
}
