package org.stopwell.rig.physics.file;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;

/** A file of size 25: a cone of 16 mm, and behind it a shaft. Numbers worked out by hand, in mm. */
class InstrumentTest {
  private static Instrument file(String taper) throws Exception {
    Map<String, Object> written = Map.of("size", 25, "taper", taper, "solid_fraction", "0.5");
    return Instrument.of(Scene.of(Map.of("file", written), 0).section("file"));
  }

  @Test
  void theShaftDoesNotTaper() throws Exception {
    Instrument file = file("0.04");
    assertEquals(0.125e-3, file.radius(0), 1e-15);
    assertEquals(0.445e-3, file.radius(16e-3), 1e-15);
    assertEquals(0.445e-3, file.radius(25e-3), 1e-15);
  }

  /** The cone of 4.511745930 mm³ is half metal, the shaft π·0.445²·5 mm³ is all metal. */
  @Test
  void theShaftIsSolid() throws Exception {
    double cone = 0.5 * 4.511745930e-9;
    assertEquals(cone, file("0.04").volume(16e-3), 1e-18);
    double shaft = Math.PI * 0.445 * 0.445 * 5 * 1e-9;
    assertEquals(cone + shaft, file("0.04").volume(21e-3), 1e-18);
  }

  /** A taper of 0.06: 0.929 mm² at the last mm with its disc, 36.71 mm² along the cone. */
  @Test
  void theSurfaceIsThatOfAConeAndACylinder() throws Exception {
    Instrument file = file("0.06");
    assertEquals(0.929e-6, file.tipDisc() + file.surface(0, 1e-3), 0.5e-9);
    assertEquals(36.71e-6, file.surface(0, 16e-3), 5e-9);
    double shaft = 2 * Math.PI * 0.605 * 4 * 1e-6;
    assertEquals(shaft, file.surface(17e-3, 21e-3), 1e-15);
    double cone = Math.PI * (0.575 + 0.605) * Math.sqrt(1 + 0.03 * 0.03) * 1e-6;
    assertEquals(cone + shaft, file.surface(15e-3, 20e-3), 1e-15);
  }

  /** Half of the circle is metal in the cutting part, all but a film of the shaft. */
  @Test
  void fluidFindsRoomBesideFlutesAndShaft() throws Exception {
    Instrument file = file("0.04");
    assertEquals(0.325e-3 * Math.sqrt(0.5), file.core(10e-3), 1e-15);
    assertEquals(0.440e-3, file.core(20e-3), 1e-15);
  }
}
