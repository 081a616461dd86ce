package org.stopwell.rig.device.twin;

import java.util.List;
import java.util.Optional;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.random.RandomStream;

/** The simulated devices, by the code of their model. Units of a model differ from each other. */
public final class Twins {
  private static final List<Integer> TWO = List.of(430, 7_800);
  private static final List<Integer> ONE = List.of(1_150);

  private Twins() {}

  /**
   * The codes of the models.
   *
   * @return in order
   */
  public static List<String> models() {
    return List.of("twin-brake", "twin-coast", "twin-reverse", "twin-own");
  }

  /**
   * A simulated device.
   *
   * @param device the device of the plan; the unit gives its deviation from the model
   * @return empty for a model that is not simulated
   */
  public static Optional<Twin> of(ClampedDevice device) {
    RandomStream unit = RandomStream.of(0, "device " + device.model() + " unit " + device.unit());
    double off = 60 * unit.nextGaussian();
    double later = unit.nextBetween(0, 10);
    double target = device.standoffMicrons() + off;
    int slower = device.battery().equals("low") ? 4 : 5;
    return Optional.ofNullable(
        switch (device.model()) {
          case "twin-brake" ->
              new CurveTwin(
                  new Traits(
                      TWO, 10, 12, 15, 8 + later, target, slower * 60_000, 700, 0.5, true, 0));
          case "twin-coast" ->
              new CurveTwin(
                  new Traits(ONE, 20, 30, 40, 25 + later, target, slower * 50_000, 0, 1, false, 0));
          case "twin-reverse" ->
              new CurveTwin(
                  new Traits(TWO, 5, 8, 10, 5 + later, target, slower * 70_000, 0, 1, true, 700));
          case "twin-own" -> new OwnTwin(device.standoffMicrons());
          default -> null;
        });
  }
}
