package org.stopwell.harness.breaking;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What a part of a search gave.
 *
 * @param found the smallest disturbance of the part that over-travels
 * @param nearest least clearance of the trials that do not over-travel, µm; the greatest integer
 *     where the part does not ask
 * @param trials trials that were simulated
 */
record Piece(Optional<Found> found, int nearest, long trials) {
  byte[] toBytes() {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (DataOutputStream out = new DataOutputStream(bytes)) {
      out.writeInt(nearest);
      out.writeLong(trials);
      if (found.isPresent()) {
        Found f = found.get();
        out.writeInt(f.canal());
        out.writeInt(f.fault());
        out.writeDouble(f.size());
        for (double share : f.shares()) {
          out.writeDouble(share);
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return bytes.toByteArray();
  }

  static Piece of(byte[] bytes) {
    try (DataInputStream in = new DataInputStream(new ByteArrayInputStream(bytes))) {
      int nearest = in.readInt();
      long trials = in.readLong();
      if (in.available() == 0) {
        return new Piece(Optional.empty(), nearest, trials);
      }
      int canal = in.readInt();
      int fault = in.readInt();
      double size = in.readDouble();
      List<Double> shares = new ArrayList<>();
      while (in.available() > 0) {
        shares.add(in.readDouble());
      }
      return new Piece(Optional.of(new Found(canal, fault, shares, size)), nearest, trials);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
