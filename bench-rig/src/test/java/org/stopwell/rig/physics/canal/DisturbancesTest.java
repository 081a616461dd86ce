package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.virtual.Specimen;

/** What disturbs a reading around a sound canal: metal crown, lip clip, separated file. */
class DisturbancesTest {
  private static final double MM = 1e-3;
  private static final int LOW = 0;
  private static final int HIGH = 1;

  private static Scene scene(String... written) throws SettingsException {
    Map<String, Map<String, String>> sections = new HashMap<>();
    for (String one : written) {
      String[] parts = one.split("[.=]", 3);
      sections.computeIfAbsent(parts[0], s -> new HashMap<>()).put(parts[1], parts[2]);
    }
    return Scene.of(sections, 1);
  }

  private static double size(MeasuringCircuit z, int frequency) {
    return Math.hypot(z.ohmsRe(frequency), z.ohmsIm(frequency));
  }

  /**
   * Metal is one conductor: all of the crown leaks once fluid touches its edge, and none before.
   */
  @ParameterizedTest
  @ValueSource(strings = {"tooth", "lumped", "meshed", "field"})
  void aMetalCrownLeaksFromTheMomentThatFluidTouchesIt(String kind) throws Exception {
    String[] crown = {"canal.kind=" + kind, "fluid.crown_ohm=500", "fluid.crown_mm=1.5"};
    double below = ohms(crown, "fluid.level_mm=17");
    double without = ohms(new String[] {"canal.kind=" + kind}, "fluid.level_mm=17");
    double touched = ohms(crown, "fluid.level_mm=18");
    assertEquals(without, below);
    assertTrue(touched > 400 && touched < 1000, kind + ": " + touched);
  }

  private static double ohms(String[] some, String more) throws SettingsException {
    String[] all = Arrays.copyOf(some, some.length + 1);
    all[some.length] = more;
    return size(new Specimen(scene(all)).at(3 * MM), LOW);
  }

  /** In series: with next to no cable the contact adds to the real part, and to nothing else. */
  @ParameterizedTest
  @ValueSource(strings = {"tooth", "resistors", "meshed"})
  void theContactOfTheLipClipIsInSeriesWithTheTooth(String kind) throws Exception {
    String cable = "front_end.stray_pf=1";
    Specimen sound = new Specimen(scene("canal.kind=" + kind, cable));
    Specimen poor = new Specimen(scene("canal.kind=" + kind, cable, "front_end.clip_ohm=5000"));
    for (int frequency : new int[] {LOW, HIGH}) {
      MeasuringCircuit a = sound.at(1 * MM);
      MeasuringCircuit b = poor.at(1 * MM);
      assertEquals(a.ohmsRe(frequency) + 5000, b.ohmsRe(frequency), 15);
      assertEquals(a.ohmsIm(frequency), b.ohmsIm(frequency), 15);
    }
  }

  /** Only the cable is left: 1/(2π·700 Hz·100 pF) = 2.27 MΩ, less by the 100 MΩ beside it. */
  @Test
  void aClipThatTouchesNothingLeavesTheCable() throws Exception {
    MeasuringCircuit z = new Specimen(scene("front_end.clip_ohm=100000000")).at(1 * MM);
    assertEquals(2.27e6, size(z, LOW), 0.02e6);
  }

  /** In air there is no circuit but the cable, whatever the clip does. */
  @Test
  void aFileInAirReadsTheCableWithAnyClip() throws Exception {
    MeasuringCircuit sound = new Specimen(scene()).at(17 * MM);
    MeasuringCircuit poor = new Specimen(scene("front_end.clip_ohm=20000")).at(17 * MM);
    for (int frequency : new int[] {LOW, HIGH}) {
      assertEquals(size(sound, frequency), size(poor, frequency), 1e-9 * size(sound, frequency));
    }
  }

  /**
   * A floating rod in a tube without loss: with ring resistance r and surface admittance y by
   * length, and Y at each end, it conducts (γ/r·coth(γL/2) + Y)/2 with γ = √(r·y). Below it is a
   * column of fluid, and the tissue.
   */
  @Test
  void aSeparatedFileConductsAsAFloatingRodInClosedForm() {
    double radius = 0.15 * MM;
    double resistivity = 0.625;
    double length = 3 * MM;
    double bottom = 1 * MM;
    double access = 1.0 / 3000;
    Canal tube = Canal.plain(16 * MM, radius, 0, radius, 0, 1.5 * MM, 1e12, 3);
    Instrument file = new Instrument(0.1e-3, 0.02, 16e-3, 0.6, 0, 1, 0, 1, 0, 0, 0);
    Surroundings around =
        new Surroundings(
            3500, 0.15, 2500, 0.8, resistivity, 0, 0, 0, 0, 0, 0, 1, 0, 0, bottom, bottom + length);
    Fragment rod =
        new Fragment(bottom, bottom + length, around, new Bore(tube), new Dentine(tube), file);
    Admittances surface = new Admittances(1);
    Admittances foot = new Admittances(1);
    // real, so that the closed form needs no complex hyperbolic tangent: 0.2 F/m² at 700 Hz is 880
    surface.set(0, 880, 0);
    rod.solve(access, surface, foot);

    double area = Math.PI * radius * radius;
    double ring = resistivity / (area * (1 - 0.6));
    double skin = 2 * Math.PI * radius * 880;
    double end = 0.6 * area * 880;
    double gamma = Math.sqrt(ring * skin);
    double rodOhms = 2 / (gamma / ring / Math.tanh(0.5 * gamma * length) + end);
    double column = resistivity * bottom / area;
    assertEquals(rodOhms + column + 1 / access, 1 / foot.re(0), 2e-3 / foot.re(0));
    assertTrue(rodOhms < 0.5 * ring * length, "the metal carries most of the current");
  }

  /**
   * The file on the separated file is one conductor with it, so that the circuit reads nearly as if
   * the tip stood at the lower end of the piece.
   */
  @Test
  void aFileOnASeparatedFileReadsAsIfItEndedAtTheLowerEndOfThePiece() throws Exception {
    Specimen tooth = new Specimen(scene("canal.fragment_length_mm=3", "canal.fragment_mm=1"));
    Specimen sound = new Specimen(scene());
    double ratioAtItsEnd = ratio(sound.at(1 * MM));
    double justAbove = size(tooth.at(4.01 * MM), LOW);
    double onIt = size(tooth.at(4 * MM), LOW);
    assertEquals(ratioAtItsEnd, ratio(tooth.at(4 * MM)), 0.03);
    assertTrue(onIt < 0.9 * justAbove, justAbove + " above, " + onIt + " on it");
    assertEquals(justAbove, size(tooth.at(4.01 * MM), LOW), 1e-6, "the file comes off the piece");
  }

  private static double ratio(MeasuringCircuit z) {
    return size(z, HIGH) / size(z, LOW);
  }

  @Test
  void aPieceInTheCanalLeavesTheReadingAloneWhereThereIsNone() throws Exception {
    double a = size(new Specimen(scene()).at(2 * MM), LOW);
    double b = size(new Specimen(scene("canal.fragment_mm=3")).at(2 * MM), LOW);
    assertEquals(a, b);
  }

  @Test
  void aSceneWithAPieceThatNoCanalHoldsIsRefused() {
    SettingsException tooLong =
        assertThrows(
            SettingsException.class,
            () -> scene("canal.fragment_length_mm=12", "canal.fragment_mm=5"));
    assertTrue(tooLong.toString().contains("reaches length_mm"), tooLong.toString());
    SettingsException otherKind =
        assertThrows(
            SettingsException.class,
            () -> scene("canal.fragment_length_mm=3", "canal.kind=meshed"));
    assertTrue(otherKind.toString().contains("kind meshed"), otherKind.toString());
  }
}
