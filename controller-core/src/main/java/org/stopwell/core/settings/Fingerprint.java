package org.stopwell.core.settings;

import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.weights.DepthWeights;

/** FNV-1a, 64 bits, over the names and base values of all settings (IETF draft-eastlake-fnv). */
final class Fingerprint {
  private static final long OFFSET = 0xcbf29ce484222325L;
  private static final long PRIME = 0x100000001b3L;

  private long hash = OFFSET;

  private Fingerprint() {}

  static long of(
      Map<String, ParameterValues> sections,
      Calibration calibration,
      @Nullable DepthWeights weights) {
    Fingerprint print = new Fingerprint();
    sections.forEach(
        (name, values) -> {
          print.add(name);
          for (Parameter p : values.table().parameters()) {
            print.add(p.key());
            print.add(values.get(p));
          }
        });
    for (Calibration.Point point : calibration.points()) {
      print.add(point.feature());
      print.add(point.remainingMicrons());
      print.add(point.lowMilliOhms());
      print.add(point.boundMicrons());
    }
    if (weights != null) {
      print.add(weights.fingerprint());
    }
    return print.hash;
  }

  private void add(String text) {
    for (int i = 0; i < text.length(); i++) {
      addByte(text.charAt(i) & 0xff);
      addByte(text.charAt(i) >>> 8);
    }
    addByte(0);
  }

  private void add(long value) {
    for (int shift = 0; shift < 64; shift += 8) {
      addByte((int) (value >>> shift) & 0xff);
    }
  }

  private void addByte(int b) {
    hash = (hash ^ b) * PRIME;
  }
}
