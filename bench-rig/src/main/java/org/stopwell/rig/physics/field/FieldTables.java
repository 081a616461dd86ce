package org.stopwell.rig.physics.field;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The tables of the teeth used last, so that a second trial on a tooth finds what the first has
 * solved. A table holds what a pure function gives, whoever asks first.
 */
final class FieldTables {
  /** Tables kept; one is at most some hundred kilobytes. */
  private static final int MOST = 64;

  /**
   * What the field hangs on.
   *
   * @param parts the tooth, without its leak
   * @param hertz measuring frequencies, Hz
   */
  private record Key(FieldTooth.Parts parts, List<Double> hertz) {}

  private static final Map<Key, FieldTable> KEPT =
      new LinkedHashMap<>(MOST, 0.75f, true) {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Key, FieldTable> eldest) {
          return size() > MOST;
        }
      };

  private FieldTables() {}

  /** The table of a tooth, new or known. */
  static FieldTable of(FieldTooth.Parts parts, List<Double> hertz) {
    synchronized (KEPT) {
      return KEPT.computeIfAbsent(
          new Key(parts.closed(), hertz),
          key -> new FieldTable(parts.canal().length(), hertz.size()));
    }
  }
}
