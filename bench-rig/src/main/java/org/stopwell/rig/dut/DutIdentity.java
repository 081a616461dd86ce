package org.stopwell.rig.dut;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Locale;

/**
 * What a board under test says of itself.
 *
 * @param version version of the line
 * @param layout version of the layout of frames
 * @param settings fingerprint of its settings
 * @param build fingerprint of the exported controller
 * @param ticksPerSecond rate of its clock
 * @param starts how often it has started since the power came
 * @param cause why it started last
 * @param name its kind
 */
record DutIdentity(
    int version,
    int layout,
    long settings,
    long build,
    long ticksPerSecond,
    long starts,
    Cause cause,
    String name) {
  /** Version of the line that this program speaks. */
  static final int VERSION = 1;

  /** The fields before the name, bytes. */
  private static final int FIXED_BYTES = 29;

  /** Why a board started. */
  enum Cause {
    POWER_ON("the power came on"),
    WATCHDOG("its watchdog"),
    FAULT("a fault of its program"),
    UNKNOWN("an unknown cause");

    private final String words;

    Cause(String words) {
      this.words = words;
    }

    static Cause of(int code) {
      return code >= 0 && code < values().length ? values()[code] : UNKNOWN;
    }

    String words() {
      return words;
    }
  }

  /** Whether a body is long enough to be an identity. */
  static boolean fits(ByteBuffer fields) {
    return fields.remaining() >= FIXED_BYTES;
  }

  static DutIdentity read(ByteBuffer fields) {
    int version = fields.getShort() & 0xFFFF;
    int layout = fields.getShort() & 0xFFFF;
    long settings = fields.getLong();
    long build = fields.getLong();
    long ticks = fields.getInt() & 0xFFFF_FFFFL;
    long starts = fields.getInt() & 0xFFFF_FFFFL;
    Cause cause = Cause.of(fields.get());
    byte[] name = new byte[fields.remaining()];
    fields.get(name);
    String text = new String(name, StandardCharsets.US_ASCII).replaceAll("[^\\x21-\\x7e]", "?");
    return new DutIdentity(version, layout, settings, build, ticks, starts, cause, text);
  }

  /** Settings and build in words. */
  String controller() {
    return controller(settings, build);
  }

  static String controller(long settings, long build) {
    return String.format(Locale.ROOT, "settings %016x, build %016x", settings, build);
  }
}
