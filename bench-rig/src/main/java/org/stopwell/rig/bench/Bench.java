package org.stopwell.rig.bench;

import java.util.List;
import java.util.Optional;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;

/**
 * A bench: something that turns commands into motion and motion into readings.
 *
 * <p>Life: {@link #open} once, then for each trial {@link #mount}, {@link #exchange} many times and
 * {@link #safeStop}; {@link #close} at the end. The motor is off after open, after mount, after
 * safeStop and after close, and it goes off by itself when exchanges stop coming.
 */
public interface Bench extends AutoCloseable {
  /**
   * What this bench is. Complete once the bench is open.
   *
   * @return the description
   */
  BenchDescription describe();

  /**
   * What this bench cannot do. Complete once the bench is open.
   *
   * @return nothing for a bench that can do everything
   */
  default List<Lack> lacks() {
    return List.of();
  }

  /**
   * Whether readings are altered on purpose, so that they say nothing about the truth.
   *
   * @return false for every sound bench
   */
  default boolean altersReadings() {
    return false;
  }

  /**
   * Connects, checks who is at the other end, and makes everything safe.
   *
   * @throws BenchException when the bench cannot be used
   */
  void open() throws BenchException;

  /**
   * Prepares one trial: canal, fluid, file, hand, noise. Bench time starts at 0.
   *
   * @param scene what to prepare
   * @throws BenchException when the bench cannot make this scene
   */
  void mount(Scene scene) throws BenchException;

  /**
   * Lets the bench go on to a time under a command, then reads it.
   *
   * @param nowNs time since the scene was mounted, ns, ascending; the first may be 0
   * @param command command to the motor since the last exchange
   * @param reading overwritten with what the controller may know
   * @throws BenchException when the bench has failed; the motor side is safe or makes itself safe
   */
  void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
      throws BenchException;

  /**
   * What was really so at the last exchange. For the harness only: the core never sees it.
   *
   * @return a reused frame
   */
  Truth truth();

  /**
   * Takes the power from the motor until the next {@link #mount}, whatever exchanges still say.
   * Never throws; may be called at any time and twice.
   */
  void safeStop();

  /**
   * The stage that this bench can drive by itself.
   *
   * @return the stage; empty when the file is moved by a hand, or by a model
   * @throws BenchException when the bench is not open
   */
  default Optional<LinearStage> drivenStage() throws BenchException {
    return Optional.empty();
  }

  /**
   * What this bench sees of a device with a motor of its own.
   *
   * @return empty for a bench that cannot watch one, which then lacks {@link Ability#DEVICE}
   */
  default Optional<DeviceWatch> deviceWatch() {
    return Optional.empty();
  }

  /**
   * Who decides in place of the controller in this program.
   *
   * @return a device under test; empty on every bench without one
   */
  default Optional<Decider> decider() {
    return Optional.empty();
  }

  /** Makes everything safe and releases it. Never throws; may be called twice. */
  @Override
  void close();
}
