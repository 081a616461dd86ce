package org.stopwell.harness.live;

/**
 * Layout of the file of the live feed, version 1. Little-endian, of one fixed size. A writer makes
 * a new file and never shortens one.
 *
 * <table>
 * <caption>Parts</caption>
 * <tr><th>byte</th><th>content</th></tr>
 * <tr><td>0</td><td>head: magic {@code SWLV} (4), version (4), then the fields at the offsets
 * below</td></tr>
 * <tr><td>256</td><td>the campaign, JSON</td></tr>
 * <tr><td>65 536</td><td>scene of the shown trial, JSON</td></tr>
 * <tr><td>69 632</td><td>the last frames of the trial that ended last; from 88 832 on its scene</td></tr>
 * <tr><td>90 112</td><td>ring of the newest 1024 frames; frame n lies at place n modulo 1024</td></tr>
 * <tr><td>155 648</td><td>ring of the newest 8192 finished trials, 16 bytes each: number, condition
 * (−1: unknown), {@link LiveStop}, stop error in µm</td></tr>
 * </table>
 *
 * <p>The number at {@link #TURN} is odd while the writer writes. A reader reads it, then what it
 * wants, then the number again, and starts anew when it was odd or has changed.
 *
 * <p>A frame is 16 numbers of 4 bytes: number of the frame, number of the trial, time in the trial
 * ms, true remaining distance µm, reading µm, bound µm, measured speed milli-rpm, measured torque
 * µN·m, surface of the fluid above the orifice µm, age of the link µs, lateness of the step µs,
 * trust, cause, state, 256 times drive plus reason, {@link #HAS_READING flags}.
 */
final class LiveFile {
  /** Name of the file in the run directory. */
  static final String NAME = "live.feed";

  static final int MAGIC = 'S' | 'W' << 8 | 'L' << 16 | 'V' << 24;
  static final int VERSION = 1;

  /** Odd while the writer writes; 8 bytes. */
  static final int TURN = 8;

  /** When the writer was alive last, ms since 1970; 8 bytes. */
  static final int ALIVE = 16;

  /** When the writer began, ms since 1970; 8 bytes. */
  static final int BEGUN = 24;

  /** Frames written in all; 8 bytes. */
  static final int FRAMES_WRITTEN = 32;

  /** Finished trials written in all; 8 bytes. */
  static final int STOPS_WRITTEN = 40;

  /** Trials that are safe on the disk. */
  static final int DONE = 48;

  /** Trials that were safe when the writer began. */
  static final int DONE_BEFORE = 52;

  /** Trials that the rig spoiled. */
  static final int RIG_FAULTS = 56;

  /** {@link #STOP_LINE_SEEN} and the others. */
  static final int FLAGS = 60;

  /** Worst lateness of a step of all finished trials, µs. */
  static final int WORST_LATENESS = 64;

  /** Number of the trial whose last frames are held; 0: none. */
  static final int HELD_TRIAL = 68;

  static final int HELD_COUNT = 72;
  static final int CAMPAIGN_BYTES = 76;
  static final int SCENE_BYTES = 80;
  static final int SAID_BYTES = 84;
  static final int HELD_SCENE_BYTES = 88;

  /** What the campaign says beside its trials, such as a port that it waits for. */
  static final int SAID = 92;

  static final int SAID_MOST = 164;

  static final int CAMPAIGN = 256;
  static final int SCENE = 65_536;
  static final int HELD = 69_632;
  static final int HELD_SCENE = 88_832;
  static final int FRAMES = 90_112;
  static final int STOPS = 155_648;
  static final int BYTES = 286_720;

  static final int FRAME_INTS = 16;
  static final int FRAME_BYTES = 4 * FRAME_INTS;
  static final int FRAMES_KEPT = 1024;
  static final int STOP_INTS = 4;
  static final int STOP_BYTES = 4 * STOP_INTS;
  static final int STOPS_KEPT = 8192;

  /** Frames of a trial that are held: 6 s of bench time. */
  static final int HELD_MOST = 300;

  /** Flag of the head: the emergency stop was seen open. It is never taken back. */
  static final int STOP_LINE_SEEN = 1;

  /** Flag of the head: the campaign has ended. */
  static final int ENDED = 2;

  /** Flag of a frame: it has a reading. */
  static final int HAS_READING = 1;

  /** Flag of a frame: the emergency stop is open. */
  static final int STOP_LINE = 2;

  /** Flag of a frame: the surface of the fluid is known. */
  static final int HAS_FLUID = 4;

  /**
   * Flag of a frame: the plan hides which trial this is, so only the health of the bench counts.
   */
  static final int COVERED = 8;

  private LiveFile() {}
}
