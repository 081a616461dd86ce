package org.stopwell.rig.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.network.Impedance;
import org.stopwell.rig.network.Target;
import org.stopwell.rig.proof.DeviceProof;
import org.stopwell.rig.virtual.ToothChain;
import org.stopwell.rig.virtual.TwinStand;
import org.stopwell.rig.virtual.VirtualBench;

/** The steps of a device board that a person goes through, at a model that poses as hardware. */
class DeviceReadingsTest {
  private static final Pattern PLACE = Pattern.compile("(\\d+\\.\\d+) mm and (\\d+) Hz");
  private static final Pattern GO = Pattern.compile("Set the file to (\\d\\.\\d) mm");

  /** A model that poses as hardware, whose file is where a person put it. */
  private static final class Held extends ForwardingBench {
    private final Truth truth = new Truth();

    Held(VirtualBench bench) {
      super(bench);
      truth.remainingMicrons = 9_000;
    }

    @Override
    public BenchDescription describe() {
      BenchDescription d = bench.describe();
      return new BenchDescription(
          d.kind(), d.serialNumber(), d.firmware(), false, d.lockstep(), d.periodNs());
    }

    @Override
    public Truth truth() {
      return truth;
    }
  }

  private static Attendant typing(List<String> typed) {
    Iterator<String> answers = typed.iterator();
    return new Attendant() {
      @Override
      public void tell(String text) {}

      @Override
      public Optional<String> answer(Question question) {
        return answers.hasNext() ? Optional.of(answers.next()) : Optional.empty();
      }
    };
  }

  private static List<Long> readings(Quantity quantity, List<String> typed) throws Exception {
    try (VirtualBench bench = new VirtualBench(1_000_000)) {
      bench.open();
      return new Calibrator(new Held(bench), typing(typed), new ForgottenNotebook(), 1)
          .readings(quantity)
          .orElseThrow();
    }
  }

  /** A meter that shows 1 % and 2° more than the tooth at every place and frequency. */
  @Test
  void theChainIsReadAgainstTheToothAndOnePassGivesMagnitudeAndPhase() throws Exception {
    Map<Double, List<Target>> tooth = ToothChain.targets(DeviceProof.resting(false));
    Notebook notes = new ForgottenNotebook();
    try (VirtualBench bench = new VirtualBench(1_000_000)) {
      bench.open();
      Held held = new Held(bench);
      Attendant meter =
          new Attendant() {
            @Override
            public void tell(String text) {}

            @Override
            public Optional<String> answer(Question question) {
              Matcher go = GO.matcher(question.text());
              if (go.find()) {
                held.truth.remainingMicrons = (int) (1e3 * Double.parseDouble(go.group(1)));
              }
              Matcher at = PLACE.matcher(question.text());
              if (!at.find()) {
                return Optional.of("y");
              }
              double metres = Double.parseDouble(at.group(1)) * 1e-3;
              Impedance shown =
                  tooth.entrySet().stream()
                      .filter(e -> Math.abs(e.getKey() - metres) < 1e-9)
                      .flatMap(e -> e.getValue().stream())
                      .filter(t -> t.hertz() == Integer.parseInt(at.group(2)))
                      .findFirst()
                      .orElseThrow()
                      .impedance();
              return Optional.of(
                  String.format(
                      Locale.ROOT,
                      "%.3f",
                      question.text().startsWith("Magnitude")
                          ? 1.01 * shown.magnitude()
                          : 2 + Math.toDegrees(shown.phase())));
            }
          };
      Calibrator calibrator = new Calibrator(held, meter, notes, 1);
      List<Long> magnitude = calibrator.readings(Quantity.CHAIN_MAGNITUDE).orElseThrow();
      assertEquals(20, magnitude.size());
      magnitude.forEach(m -> assertEquals(1_000.0, m, 2.0, magnitude.toString()));
      List<Long> phase =
          new Calibrator(held, Attendant.NOBODY, notes, 1)
              .readings(Quantity.CHAIN_PHASE)
              .orElseThrow();
      assertEquals(20, phase.size());
      phase.forEach(p -> assertEquals(2_000.0, p, 2.0, phase.toString()));
    }
  }

  /** The model weighs 0.25 N, and its shank rests. */
  @Test
  void forceScaleAnglePlayAreWhatTheBoardShowsMinusTheReference() throws Exception {
    for (long force :
        readings(Quantity.FEED_FORCE, List.of("25.5", "25.5", "25.5", "25.5", "0")).subList(0, 4)) {
      assertTrue(Math.abs(force) <= 15, force + " mN");
    }
    assertEquals(
        -5_000_000,
        readings(
                Quantity.SHANK_SCALE, List.of("5", "y", "5", "y", "5", "y", "5", "y", "0.004", "y"))
            .get(0),
        20_000);
    List<Long> angles =
        readings(Quantity.SHANK_ANGLE, List.of("y", "45", "0", "0", "0", "0", "0", "0", "0"));
    assertEquals(-45_000, angles.get(0), 500);
    assertEquals(0, angles.get(1), 500);
    assertEquals(
        List.of(25_000L, 20_000L, 0L, 0L, 0L),
        readings(Quantity.HEAD_PLAY, List.of("30", "5", "30", "10", "0", "0", "0", "0", "0", "0")));
  }

  /** What is outside of its limit is known by it. */
  @Test
  void aDefectIsOutsideItsLimit() throws Exception {
    assertTrue(Quantity.STRAY.limit().holds(List.of(30_000L, 34_000L)));
    assertFalse(Quantity.STRAY.limit().holds(List.of(30_000L, 36_000L)), "stable to 5 pF");
    assertEquals("0 to 60 pF, stable to 5 pF", Quantity.STRAY.limit().words("pF"));
    assertEquals("±3 %", Quantity.CHAIN_MAGNITUDE.limit().words("%"));
    try (VirtualBench bench = new VirtualBench(1_000_000)) {
      bench.open();
      bench.stand().damage(TwinStand.Defect.STRAY);
      Calibrator calibrator = new Calibrator(bench, Attendant.NOBODY, new ForgottenNotebook(), 1);
      assertEquals(90_000, calibrator.readings(Quantity.STRAY).orElseThrow().get(0));
      bench.stand().damage(TwinStand.Defect.DEAF_WITNESS);
      assertEquals(0, calibrator.readings(Quantity.WITNESS).orElseThrow().get(0));
    }
  }
}
