package org.stopwell.harness.record;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import java.util.zip.InflaterInputStream;

/** Traces are repetitive, so they are stored deflated. */
final class Packed {
  private Packed() {}

  static byte[] pack(byte[] bytes) {
    ByteArrayOutputStream out = new ByteArrayOutputStream(bytes.length / 4 + 64);
    Deflater fast = new Deflater(Deflater.BEST_SPEED);
    try (DeflaterOutputStream deflating = new DeflaterOutputStream(out, fast)) {
      deflating.write(bytes);
    } catch (IOException e) {
      throw new UncheckedIOException("memory does not fail", e);
    } finally {
      fast.end();
    }
    return out.toByteArray();
  }

  /** Unpacks exactly {@code length} bytes, or fails. */
  static byte[] unpack(byte[] packed, int length) throws IOException {
    try (InflaterInputStream in = new InflaterInputStream(new ByteArrayInputStream(packed))) {
      byte[] bytes = in.readNBytes(length);
      if (bytes.length != length || in.read() != -1) {
        throw new IOException("not " + length + " bytes long");
      }
      return bytes;
    }
  }
}
