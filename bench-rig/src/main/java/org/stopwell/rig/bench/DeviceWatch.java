package org.stopwell.rig.bench;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.device.TipSeen;
import org.stopwell.rig.device.Watched;

/** Watches a device with a motor of its own while the bench plays the canal and feeds the file. */
public interface DeviceWatch {
  /**
   * The models that this bench can hold.
   *
   * @return their codes; none where any device can be clamped in
   */
  default List<String> models() {
    return List.of();
  }

  /**
   * States which device is clamped in, before a scene is mounted. A bench that holds one device,
   * put there by a person, needs no statement.
   *
   * @param device the device of the trials to come
   */
  default void attach(ClampedDevice device) {}

  /**
   * The faults that this bench can play, in the device or around it.
   *
   * @return none where the device is hardware
   */
  default Set<DeviceFault> playable() {
    return Set.of();
  }

  /**
   * Lets a fault happen in the trials to come.
   *
   * @param fault one of {@link #playable()}; empty: none
   */
  default void play(Optional<DeviceFault> fault) {}

  /**
   * Verifies the network with the device switched off it, before and after a trial.
   *
   * @return what the bench found
   * @throws BenchException when the bench cannot look: this says nothing about the network
   */
  default CircuitCheck circuit() throws BenchException {
    return CircuitCheck.SOUND;
  }

  /**
   * Advances the file after a stop in an extracted tooth until an observer sees its tip at the
   * foramen.
   *
   * @param expectedMicrons distance to the foramen that the measured length gives, µm
   * @return the distance that was seen; empty where nobody looks at the foramen
   * @throws BenchException when the stage does not move, or the observer gives no answer
   */
  default Optional<TipSeen> advance(int expectedMicrons) throws BenchException {
    return Optional.empty();
  }

  /**
   * Hands over the samples since the last call, in the order of their times.
   *
   * @param into receives them at its end
   */
  void drain(List<Watched> into);
}
