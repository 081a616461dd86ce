package org.stopwell.rig.pi;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;

/** Pins with a motor, an encoder, a converter and contacts behind them, for tests without a Pi. */
class ModelPins implements Pins {
  static final int STEPS_PER_TURN = 64;
  static final double FULL_SPEED_RPM = 1000;

  /** Time constants of the shaft, s (assumed): driven, braked, free. */
  private static final double DRIVEN_S = 0.02;

  private static final double BRAKED_S = 0.005;
  private static final double FREE_S = 0.05;

  private static final double STICTION_RPM = 0.5;

  final Map<String, Boolean> outputs = new ConcurrentHashMap<>();
  final Map<String, Double> shares = new ConcurrentHashMap<>();
  final Map<String, Boolean> levels = new ConcurrentHashMap<>();
  final Map<String, Integer> addresses = new ConcurrentHashMap<>();
  private final Map<String, List<LevelListener>> listeners = new ConcurrentHashMap<>();
  int converterCode;
  byte[] sent = {};
  boolean closed;

  /** Outputs that were set though the pins had been let go. */
  final List<String> touchedAfterClose = new ArrayList<>();

  private double rpm;
  private double turns;

  ModelPins() {
    levels.put("stop line", false);
    levels.put("reset button", true);
    levels.put("encoder A", false);
    levels.put("encoder B", false);
  }

  @Override
  public Output output(String name, int gpio) {
    addresses.put(name, gpio);
    outputs.put(name, false);
    return high -> {
      if (closed) {
        touchedAfterClose.add(name);
      }
      outputs.put(name, high);
    };
  }

  @Override
  public Input input(String name, int gpio) {
    addresses.put(name, gpio);
    return new Input() {
      @Override
      public boolean high() {
        return is(levels, name);
      }

      @Override
      public void onChange(LevelListener listener) {
        listeners.computeIfAbsent(name, n -> new ArrayList<>()).add(listener);
      }
    };
  }

  @Override
  public Pwm pwm(String name, int channel, int hertz) {
    addresses.put(name, channel);
    shares.put(name, 0.0);
    return share -> shares.put(name, share);
  }

  @Override
  public Spi spi(String name, int bus, int chipSelect, int hertz) {
    return bytes -> {
      sent = bytes.clone();
      bytes[1] = (byte) (converterCode >> 8);
      bytes[2] = (byte) converterCode;
    };
  }

  @Override
  public void close() {
    closed = true;
  }

  /** Puts an input to a level and tells whoever listens. */
  void put(String name, boolean high) {
    if (!Boolean.valueOf(high).equals(levels.put(name, high))) {
      listeners.getOrDefault(name, List.of()).forEach(l -> l.changed(high));
    }
  }

  boolean on(String output) {
    return is(outputs, output);
  }

  double power() {
    return shares.getOrDefault("motor power", 0.0);
  }

  double rpm() {
    return rpm;
  }

  /** Lets the shaft turn for a time, s. */
  void advance(double seconds) {
    boolean driven = on("enable relay") && power() > 0;
    double wanted = driven ? power() * FULL_SPEED_RPM * (on("direction") ? -1 : 1) : 0;
    double constant = driven ? DRIVEN_S : on("brake") ? BRAKED_S : FREE_S;
    rpm += (wanted - rpm) * (1 - Math.exp(-seconds / constant));
    if (!driven && Math.abs(rpm) < STICTION_RPM) {
      rpm = 0;
    }
    turns += rpm / 60 * seconds;
    int place = (int) Math.floorMod((long) Math.floor(turns * STEPS_PER_TURN), 4L);
    put("encoder A", place == 1 || place == 2);
    put("encoder B", place == 2 || place == 3);
  }

  private static boolean is(Map<String, Boolean> of, String name) {
    return of.getOrDefault(name, false);
  }
}
