package org.stopwell.rig.pi;

import com.pi4j.Pi4J;
import com.pi4j.context.Context;
import com.pi4j.exception.Pi4JException;
import com.pi4j.io.IO;
import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.io.gpio.digital.PullResistance;
import com.pi4j.io.pwm.PwmType;
import com.pi4j.io.spi.SpiBus;
import com.pi4j.io.spi.SpiMode;
import com.pi4j.plugin.gpiod.provider.gpio.digital.GpioDDigitalInputProvider;
import com.pi4j.plugin.gpiod.provider.gpio.digital.GpioDDigitalOutputProvider;
import com.pi4j.plugin.linuxfs.provider.pwm.LinuxFsPwmProvider;
import com.pi4j.plugin.linuxfs.provider.spi.LinuxFsSpiProvider;
import com.pi4j.provider.Provider;
import java.nio.file.Path;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;

/**
 * Pins through Pi4J: the kernel's GPIO character device for levels, its file system for PWM and
 * SPI. These work on a Pi 4 and on a Pi 5.
 *
 * <p>The library clamps a duty cycle above 100 %, but silently keeps the old one when it is given a
 * negative number or none at all; so the share is judged here.
 */
public final class Pi4jPins implements Pins {
  private static final Path PWM_CHIPS = Path.of("/sys/class/pwm");

  private final Context pi4j;

  /**
   * The library keeps one list of addresses for pins, channels and select lines, hence a second.
   */
  private final Context buses;

  private Pi4jPins(Context pi4j, Context buses) {
    this.pi4j = pi4j;
    this.buses = buses;
  }

  /**
   * Opens the pins of this computer. At the normal end of the program, and after a signal to end,
   * every output goes low. If the program is killed or hangs, only the hardware cuts the power.
   *
   * @param pwmDevice name of the device behind the PWM pins, as the kernel calls it
   * @return the pins
   * @throws BenchException when this computer has no such pins
   */
  public static Pi4jPins open(String pwmDevice) throws BenchException {
    int chip = PwmChip.find(PWM_CHIPS, pwmDevice);
    try {
      return with(
          LinuxFsSpiProvider.newInstance(),
          GpioDDigitalInputProvider.newInstance(),
          GpioDDigitalOutputProvider.newInstance(),
          LinuxFsPwmProvider.newInstance(PWM_CHIPS.toString(), chip));
    } catch (Pi4JException | UnsatisfiedLinkError e) {
      throw new BenchException(
          RigFault.PORT_MISSING, "this computer gives no GPIO pins: " + e.getMessage(), e);
    }
  }

  static Pi4jPins with(Provider<?, ?, ?> spi, Provider<?, ?, ?>... others) {
    return new Pi4jPins(context(others), context(spi));
  }

  private static Context context(Provider<?, ?, ?>... providers) {
    return Pi4J.newContextBuilder().noAutoDetect().enableShutdownHook().add(providers).build();
  }

  /** For tests that look at the library's own side of a pin. */
  <T extends IO<?, ?, ?>> T io(Class<T> type, String name) {
    return (pi4j.hasIO(name) ? pi4j : buses).io(name, type);
  }

  @Override
  public Output output(String name, int gpio) {
    DigitalOutput pin =
        pi4j.create(
            DigitalOutput.newConfigBuilder(pi4j)
                .id(name)
                .address(gpio)
                .initial(DigitalState.LOW)
                .shutdown(DigitalState.LOW)
                .build());
    return high -> pin.state(DigitalState.getState(high));
  }

  @Override
  public Input input(String name, int gpio) {
    DigitalInput pin =
        pi4j.create(
            DigitalInput.newConfigBuilder(pi4j)
                .id(name)
                .address(gpio)
                .pull(PullResistance.PULL_UP)
                .debounce(0L)
                .build());
    return new Input() {
      @Override
      public boolean high() {
        return pin.isHigh();
      }

      @Override
      public void onChange(LevelListener listener) {
        pin.addListener(event -> listener.changed(event.state().isHigh()));
      }
    };
  }

  @Override
  public Pwm pwm(String name, int channel, int hertz) {
    com.pi4j.io.pwm.Pwm pin =
        pi4j.create(
            com.pi4j.io.pwm.Pwm.newConfigBuilder(pi4j)
                .id(name)
                .address(channel)
                .pwmType(PwmType.HARDWARE)
                .frequency(hertz)
                .initial(0)
                .shutdown(0)
                .build());
    return share -> {
      if (!(share >= 0)) {
        throw new IllegalArgumentException(name + ": a share of " + share + " is less than 0");
      }
      if (share == 0) {
        pin.off();
      } else {
        pin.on(100 * Math.min(1, share));
      }
    };
  }

  @Override
  public Spi spi(String name, int bus, int chipSelect, int hertz) {
    com.pi4j.io.spi.Spi device =
        buses.create(
            com.pi4j.io.spi.Spi.newConfigBuilder(buses)
                .id(name)
                .bus(SpiBus.getByNumber(bus))
                .address(chipSelect)
                .mode(SpiMode.MODE_0)
                .baud(hertz)
                .build());
    return bytes -> device.transfer(bytes.clone(), bytes);
  }

  @Override
  public void close() {
    try {
      pi4j.shutdown();
      buses.shutdown();
    } catch (Pi4JException e) {
      // No caller is left to report to. The pull-downs on the board keep the pins low.
    }
  }
}
