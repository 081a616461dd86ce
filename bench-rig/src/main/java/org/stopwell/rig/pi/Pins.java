package org.stopwell.rig.pi;

/**
 * The pins of a computer, as this bench needs them. Nothing above knows which library moves them.
 *
 * <p>One rule makes every start and every end safe: <em>low is safe</em>. Each output is low from
 * the moment it is taken, and low again after {@link #close}; each PWM is 0.
 */
public interface Pins extends AutoCloseable {
  /** A pin that is driven. */
  interface Output {
    /**
     * Drives the pin.
     *
     * @param high the level
     */
    void set(boolean high);
  }

  /** A pin that is read, pulled up: an open contact and a broken wire read high. */
  interface Input {
    /**
     * Reads the pin.
     *
     * @return the level now
     */
    boolean high();

    /**
     * Registers for every change, on a thread of the library.
     *
     * @param listener receives each new level
     */
    void onChange(LevelListener listener);
  }

  /** Told of the levels of an input. */
  interface LevelListener {
    /**
     * The level has changed.
     *
     * @param high the new level
     */
    void changed(boolean high);
  }

  /** A pin that switches fast, on for a share of the time. */
  interface Pwm {
    /**
     * Sets the share.
     *
     * @param share 0 to 1; more counts as 1
     * @throws IllegalArgumentException when the share is negative or not a number
     */
    void set(double share);
  }

  /** A device on a serial peripheral interface, mode 0. */
  interface Spi {
    /**
     * Sends bytes and receives as many.
     *
     * @param bytes sent, then overwritten by the answer
     */
    void transfer(byte[] bytes);
  }

  /**
   * Takes an output; it is low from now on.
   *
   * @param name its purpose
   * @param gpio its number (BCM)
   * @return the output
   */
  Output output(String name, int gpio);

  /**
   * Takes an input with its pull-up.
   *
   * @param name its purpose
   * @param gpio its number (BCM)
   * @return the input
   */
  Input input(String name, int gpio);

  /**
   * Takes a PWM channel; it is 0 from now on.
   *
   * @param name its purpose
   * @param channel its number
   * @param hertz its frequency, Hz
   * @return the channel
   */
  Pwm pwm(String name, int channel, int hertz);

  /**
   * Takes a device on a bus.
   *
   * @param name its purpose
   * @param bus number of the bus
   * @param chipSelect number of its select line
   * @param hertz clock, Hz
   * @return the device
   */
  Spi spi(String name, int bus, int chipSelect, int hertz);

  /** Sets everything low, then releases it. Never throws; may be called twice. */
  @Override
  void close();
}
