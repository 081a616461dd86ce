package org.stopwell.rig.truth;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.virtual.VirtualBench;

class TruthCheckTest {
  private static final long MS = 1_000_000;
  private static final int START = 9_000;

  /** What an encoder says at a time, ms, instead of the true distance, µm. */
  private enum Lie {
    MOUNTED_ELSEWHERE("after the mount it is 9.051 mm, but the scene starts at 9.000 mm"),
    NEVER_MOVES("it stands at 9.000 mm for"),
    STANDS_IN_THE_CANAL("ms while a turning file is fed"),
    LEAPS_EACH_MS("within 1000 µs; limit 0.0"),
    DIPS_FOR_3_MS("within 1000 µs; limit 0.0"),
    OVERFLOWS("it is -2147483.648 mm; limits -6.000 mm and 100.000 mm"),
    LEAVES_THE_DEPTH_AXIS("which makes"),
    SPEED_OVERFLOWS("the true speed is -2147483648 milli-rpm");

    private final String said;

    Lie(String said) {
      this.said = said;
    }

    void tell(long ms, Truth truth) {
      switch (this) {
        case MOUNTED_ELSEWHERE -> truth.remainingMicrons += 51;
        case NEVER_MOVES -> truth.remainingMicrons = START;
        case STANDS_IN_THE_CANAL ->
            truth.remainingMicrons = Math.max(truth.remainingMicrons, 4_000);
        case LEAPS_EACH_MS -> truth.remainingMicrons += ms % 2 == 0 ? 0 : 3_000;
        case DIPS_FOR_3_MS -> truth.remainingMicrons -= ms >= 2_000 && ms < 2_003 ? 500 : 0;
        case OVERFLOWS -> truth.remainingMicrons = ms < 2_000 ? truth.remainingMicrons : 1 << 31;
        case LEAVES_THE_DEPTH_AXIS -> truth.remainingMicrons += (int) (ms / 10);
        case SPEED_OVERFLOWS -> truth.speedMilliRpm = ms < 2_000 ? 0 : 1 << 31;
      }
    }
  }

  @ParameterizedTest
  @EnumSource(Lie.class)
  void aTruthThatCannotBeIsARigFault(Lie lie) throws Exception {
    Scene scene =
        scene(
            "canal: {length_mm: 8}, hand: {passive_mm: 3, feed_mm_per_s: 1, depth_axis: present}"
                + ", fluid: {level_mm: 6}");
    if (lie != Lie.LEAVES_THE_DEPTH_AXIS) {
      scene = scene("canal: {length_mm: 8}, hand: {passive_mm: 3, feed_mm_per_s: 1}");
    }
    assertBad(lying(new VirtualBench(MS), lie), scene, lie.said);
  }

  /** Slower than any hand, so that nothing but the network contradicts it. */
  @ParameterizedTest
  @CsvSource({"resistors, 1", "resistors, -1", "network, 1", "network, -1"})
  void aNetworkGivesAwayATruthThatLies(String kind, int sign) throws Exception {
    Bench bench =
        new ForwardingBench(new VirtualBench(MS)) {
          private final Truth told = new Truth();
          private int ms;

          @Override
          public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
              throws BenchException {
            bench.exchange(nowNs, command, reading);
            ms = (int) (nowNs / MS);
          }

          @Override
          public Truth truth() {
            told.copyFrom(bench.truth());
            told.remainingMicrons += sign * Math.min(4_000, ms);
            return told;
          }
        };
    assertBad(
        bench,
        scene("canal: {kind: " + kind + ", length_mm: 8}, hand: {passive_mm: 5}"),
        "Ω at 700 Hz, but the bench measures ");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "hand: {motion: pecking, peck_stroke_mm: 5, peck_mm_per_s: 50, feed_mm_per_s: 20}",
        "hand: {motion: hesitating, hesitation_ms: 1500, tremor_um: 0, reaction_ms: 500}",
        "hand: {after_stop: repeat, hold_ms: 0, feed_mm_per_s: 20, passive_mm: 16}",
        "hand: {tremor_um: 500, tremor_hz: 30, depth_axis: present, depth_step_um: 1000}",
        "hand: {push_through_mm: 5, reaction_ms: 2000, feed_mm_per_s: 5, passive_mm: 16}",
        "canal: {kind: resistors}, hand: {motion: stage, feed_mm_per_s: 20, depth_axis: present}",
        "canal: {kind: resistors, shunt_ohm: 2500}, hand: {motion: pecking, feed_mm_per_s: 3}",
        "canal: {kind: network}, fluid: {level_mm: 8}, hand: {motion: stage, feed_mm_per_s: 2}",
        "canal: {kind: network}, hand: {after_stop: repeat, feed_mm_per_s: 10, hold_ms: 100}",
        "canal: {kind: resistors}, front_end: {delay_ms: 100, noise_percent: 5, hum_percent: 5}",
        "canal: {kind: resistors}, front_end: {gain_error_percent: 20, settle_ms: 50}",
        "canal: {constriction_diameter_mm: 0.2, taper: 0.02}, hand: {motion: stage, passive_mm: 0}",
        "canal: {curve_deg: 60, curve_radius_mm: 3}, hand: {feed_mm_per_s: 5}",
      })
  void anHonestBenchIsNeverAccused(String sections) throws Exception {
    for (int seed = 1; seed <= 2; seed++) {
      run(new VirtualBench(MS), scene(sections, seed), 10_000);
    }
  }

  /**
   * Where a person feeds the file, nobody knows where it starts; the network shows that it moves.
   */
  @ParameterizedTest
  @CsvSource({"9000", "4000", "0"})
  void aTruthThatStandsStillIsGivenAwayByTheNetworkWhereAPersonFeedsTheFile(int microns)
      throws Exception {
    Bench bench =
        new ForwardingBench(new VirtualBench(MS)) {
          @Override
          public BenchDescription describe() {
            return new BenchDescription("serial", "M-1", "matter", false, true, MS);
          }

          @Override
          public Truth truth() {
            Truth told = new Truth();
            told.remainingMicrons = microns;
            return told;
          }
        };
    assertBad(
        bench,
        scene("canal: {kind: resistors, length_mm: 8}, hand: {passive_mm: 7, feed_mm_per_s: 2}"),
        "Ω at 700 Hz");
  }

  /** A quarter of a metre in a second, by hand; the file starts wherever the person left it. */
  @Test
  void aPersonMayStartAnywhereAndPullQuickly() throws Exception {
    run(person(250), scene("canal: {kind: resistors, length_mm: 8}"), 400);
    assertBad(person(3_000), scene("canal: {kind: resistors, length_mm: 8}"), "within 1000 µs");
  }

  @Test
  void aReadingThatIsAlteredOnPurposeSaysNothingAboutTheTruth() throws Exception {
    Scene scene = scene("canal: {kind: resistors, length_mm: 8}, hand: {passive_mm: 5}");
    assertBad(scaled(false), scene, "Ω at 700 Hz");
    run(scaled(true), scene, 5_000);
  }

  private static Bench scaled(boolean onPurpose) {
    return new ForwardingBench(new VirtualBench(MS)) {
      @Override
      public boolean altersReadings() {
        return onPurpose;
      }

      @Override
      public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
          throws BenchException {
        bench.exchange(nowNs, command, reading);
        reading.zRealMilliOhms[0] /= 2;
      }
    };
  }

  private static Bench lying(Bench sound, Lie lie) {
    return new ForwardingBench(sound) {
      private final Truth told = new Truth();
      private long ms;

      @Override
      public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
          throws BenchException {
        bench.exchange(nowNs, command, reading);
        ms = nowNs / MS;
      }

      @Override
      public Truth truth() {
        told.copyFrom(bench.truth());
        lie.tell(ms, told);
        return told;
      }
    };
  }

  /** A physical bench whose file is drawn out of the canal by hand, µm each ms. */
  private static Bench person(int micronsPerMs) {
    return new ForwardingBench(new VirtualBench(MS)) {
      private final Truth told = new Truth();
      private int microns = 2_000;

      @Override
      public BenchDescription describe() {
        return new BenchDescription("serial", "M-1", "matter", false, true, MS);
      }

      @Override
      public void exchange(long nowNs, ControllerOutput command, ControllerInput reading) {
        reading.copyFrom(new ControllerInput());
        microns = Math.min(60_000, microns + micronsPerMs);
      }

      @Override
      public Truth truth() {
        told.remainingMicrons = microns;
        return told;
      }
    };
  }

  private static void assertBad(Bench bench, Scene scene, String said) {
    BenchException e = assertThrows(BenchException.class, () -> run(bench, scene, 8_000));
    assertEquals(RigFault.BAD_TRUTH, e.fault());
    assertTrue(e.toString().contains(said), e.toString());
  }

  /**
   * Feeds the file into the canal: it rests for 2 s, turns for the rest, and rests now and then.
   */
  private static void run(Bench bench, Scene scene, long forMs) throws Exception {
    ControllerInput in = new ControllerInput();
    ControllerOutput command = new ControllerOutput();
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 20_000;
    try (bench) {
      bench.open();
      bench.mount(scene);
      TruthCheck check = new TruthCheck(scene, bench);
      check.mounted(bench.truth());
      for (long ms = 0; ms < forMs; ms++) {
        command.drive = ms < 2_000 || ms % 4_000 < 500 ? Drive.OFF : Drive.FORWARD;
        bench.exchange(ms * MS, command, in);
        check.look(ms * MS, command, in, bench.truth());
      }
    }
  }

  private static Scene scene(String sections) throws Exception {
    return scene(sections, 1);
  }

  /** Sections as a plan writes them, on one line. */
  private static Scene scene(String sections, long seed) throws Exception {
    Map<String, Map<String, String>> written = new HashMap<>();
    for (String section : sections.split("}", -1)) {
      int brace = section.indexOf('{');
      if (brace >= 0) {
        String name = section.substring(0, brace).replaceAll("[,: ]", "");
        Map<String, String> values = new HashMap<>();
        for (String pair : section.substring(brace + 1).split(",", -1)) {
          int colon = pair.indexOf(':');
          values.put(pair.substring(0, colon).strip(), pair.substring(colon + 1).strip());
        }
        written.put(name, values);
      }
    }
    return Scene.of(written, seed);
  }
}
