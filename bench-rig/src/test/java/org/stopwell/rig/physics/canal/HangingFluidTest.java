package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.file.Instrument;

/** Film and plug above the fluid as currents see them, against circuits of a few elements. */
class HangingFluidTest {
  private static final double MM = 1e-3;
  private static final double[] HERTZ = {500, 8000};

  /** A tube 0.8 mm wide and 16 mm long in dentine; fluid of 1 S/m, a leak of 5 kΩ. */
  private final Canal tube = Canal.plain(16 * MM, 0.4 * MM, 0, 0.4 * MM, 0, 1.5 * MM, 212, 3);

  private final Instrument file =
      new Instrument(0.1 * MM, 0.01, 16e-3, 0.6, 1, 0.85, 1e9, 1e-3, 0, 0, 0);

  private ToothCircuit circuit() {
    Surroundings around =
        new Surroundings(3500, 0.15, 2500, 0.8, 1, 3 * MM, 1 / 5000.0, 0, 0, 0, 0, 1, 0, 0, 0, 0);
    return new ToothCircuit(around, tube, new Bore(tube), file, HERTZ, 0, 1);
  }

  /** A ring of film is a wire: ρl/(πr²·share), before the leak of the chamber. */
  @Test
  void aFilmIsAWireFromTheFluidToTheChamber() {
    ToothCircuit film = circuit();
    film.film(0.1);
    film.solve(2 * MM, 9 * MM);
    double wire = 7 * MM / (Math.PI * 0.4 * 0.4 * MM * MM * 0.1);

    assertEquals(1 / (wire + 5000), film.leakSiemens(), 1e-12);
    film.solve(2 * MM, 16.5 * MM);
    assertEquals(1 / 5000.0, film.leakSiemens(), 1e-12, "its chamber is wet as far as it is high");
    film.solve(10 * MM, 9 * MM);
    assertEquals(0, film.leakSiemens(), "a dry tip has no fluid to leak from");
  }

  /** No film is the circuit without one, and a thicker film makes a reading of less resistance. */
  @Test
  void aThickerFilmTakesMoreCurrent() {
    ToothCircuit none = circuit();
    none.solve(2 * MM, 9 * MM);
    double before = size(none, 0);
    for (double share : new double[] {1e-9, 0.01, 0.1, 0.2}) {
      ToothCircuit film = circuit();
      film.film(share);
      film.solve(2 * MM, 9 * MM);
      double now = size(film, 0);
      assertTrue(share < 1e-6 || now < before, "share " + share);
      assertEquals(share < 1e-6 ? before : now, now, 1e-6 * before);
      before = now;
    }
  }

  private static double size(ToothCircuit circuit, int f) {
    return Math.hypot(circuit.ohmsRe(f), circuit.ohmsIm(f));
  }

  /** The plug is one node: file through metal, tissue through wall, lip through leak. */
  @Test
  void aPlugIsOneMoreNode() {
    ToothCircuit plain = circuit();
    plain.solve(2 * MM, 9 * MM);
    ToothCircuit plug = circuit();
    plug.plug(14 * MM, 1 * MM);
    plug.solve(2 * MM, 9 * MM);
    double metal = file.surface(12 * MM, 15 * MM);
    double wall = 2 * MM * 2 * Math.PI / (212 * Math.log1p(1.5 / 0.4));
    double leak = 1 / 5000.0 / 3;
    for (int f = 0; f < HERTZ.length; f++) {
      double[] body = {plain.body().re(f), plain.body().im(f)};
      double[] whole = over(new double[] {1, 0}, new double[] {plain.ohmsRe(f), plain.ohmsIm(f)});
      // in series with the body: direct = Y·B/(B − Y); the plug wets 2 mm that were dry
      double[] direct = over(times(whole, body), minus(body, whole));
      direct[0] -= 2 * MM * ToothCircuit.DRY_CONTACT;
      double[] surface = {metal * plain.surface().re(f), metal * plain.surface().im(f)};
      // file at 1 V, lip at 0 V; nodes p (plug) and t (tissue)
      double[] p = {surface[0] + wall + leak, surface[1]};
      double[] t = {direct[0] + wall + body[0], direct[1] + body[1]};
      double[] det = minus(times(p, t), new double[] {wall * wall, 0});
      double[] vp = over(plus(times(surface, t), times(direct, new double[] {wall, 0})), det);
      double[] vt = over(plus(times(direct, p), times(surface, new double[] {wall, 0})), det);
      double[] current = plus(times(new double[] {leak, 0}, vp), times(body, vt));
      double[] ohms = over(new double[] {1, 0}, current);
      assertEquals(ohms[0], plug.ohmsRe(f), 2e-3 * size(plug, f), HERTZ[f] + " Hz");
      assertEquals(ohms[1], plug.ohmsIm(f), 2e-3 * size(plug, f), HERTZ[f] + " Hz");
    }
    assertTrue(plug.leakShare(0) > 0 && plug.leakShare(0) < 1);
  }

  private static double[] times(double[] a, double[] b) {
    return new double[] {a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]};
  }

  private static double[] over(double[] a, double[] b) {
    double size = b[0] * b[0] + b[1] * b[1];
    return times(a, new double[] {b[0] / size, -b[1] / size});
  }

  private static double[] plus(double[] a, double[] b) {
    return new double[] {a[0] + b[0], a[1] + b[1]};
  }

  private static double[] minus(double[] a, double[] b) {
    return new double[] {a[0] - b[0], a[1] - b[1]};
  }

  @Test
  void whatAModelOfTheToothDoesNotHaveIsRefused() {
    assertRefused("canal.kind is meshed", Map.of("film_mm_per_s", "50"), "meshed");
    assertRefused("canal.kind is field", Map.of("plug_mm", "2"), "field");
    assertRefused(
        "give plug_mm or film_mm_per_s", Map.of("plug_mm", "2", "film_mm_per_s", "50"), "tooth");
    assertRefused(
        "2 mm below the orifice reaches", Map.of("plug_mm", "2", "level_mm", "14"), "tooth");
  }

  private static void assertRefused(String message, Map<String, String> fluid, String kind) {
    SettingsException refused =
        assertThrows(
            SettingsException.class,
            () -> Scene.of(Map.of("canal", Map.of("kind", kind), "fluid", fluid), 0));
    assertTrue(String.valueOf(refused.getMessage()).contains(message), refused.getMessage());
  }
}
