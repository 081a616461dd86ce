package org.stopwell.harness.campaign;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Queue;
import java.util.Set;
import java.util.concurrent.ConcurrentLinkedQueue;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.plan.ExtractedTooth;
import org.stopwell.harness.plan.Mount;
import org.stopwell.harness.plan.Plan;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Irrigant;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.ToothSection;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.DeviceFault;
import org.stopwell.rig.device.TipSeen;
import org.stopwell.rig.device.Watched;

/**
 * Guides the person at a bench with extracted teeth: which tooth to mount, how to fill it, and when
 * to set the zero of the stage. It asks before each trial. Without an answer the campaign ends as
 * after a stop request, and a resumed campaign asks again from the mounting on.
 */
public final class ToothDesk {
  /** Greatest travel that one answer asks for, mm; assumed: less than from the tip to a finger. */
  private static final double JOG_MM = 5;

  /** Speed of that travel, µm/s; assumed: slow enough to take a hand away. */
  private static final int JOG_MICRONS_PER_SECOND = 1_000;

  /** Kind of the note that holds a mount as measured. */
  public static final String MOUNTED = "mount";

  /** How far the temperature of a mount may be from its nominal one, °C: ±1. */
  private static final double OFF_CELSIUS = 1;

  private final Plan plan;
  private final Attendant attendant;
  private final Queue<String> measured = new ConcurrentLinkedQueue<>();
  private volatile boolean left;

  /**
   * A desk.
   *
   * @param plan a plan on extracted teeth
   * @param attendant who is at the bench
   */
  public ToothDesk(Plan plan, Attendant attendant) {
    this.plan = plan;
    this.attendant = attendant;
  }

  /**
   * Whether a question stayed without an answer.
   *
   * @return true when the campaign must end
   */
  public boolean isLeft() {
    return left;
  }

  /**
   * Takes the mounts that were measured since the last call.
   *
   * @return one line for each, to be kept as a note of kind {@link #MOUNTED}
   */
  public List<String> mounted() {
    List<String> lines = new ArrayList<>();
    for (String line = measured.poll(); line != null; line = measured.poll()) {
      lines.add(line);
    }
    return lines;
  }

  /**
   * The bench with a person beside it.
   *
   * @param bench an open bench
   * @return the bench, which asks before each trial
   */
  public Bench around(Bench bench) {
    return new AttendedBench(bench);
  }

  /**
   * Benches with a person beside them.
   *
   * @param maker makes benches
   * @return makes the same ones, which ask before each trial
   */
  public BenchMaker around(BenchMaker maker) {
    return () -> around(maker.open());
  }

  private final class AttendedBench extends ForwardingBench {
    private int mounted;
    private Optional<Mount> mount = Optional.empty();
    private boolean clear;

    AttendedBench(Bench bench) {
      super(bench);
    }

    @Override
    public void mount(Scene scene) throws BenchException {
      int number = ToothSection.number(scene);
      Optional<ExtractedTooth> tooth =
          plan.teeth().stream().filter(t -> t.number() == number).findFirst();
      if (tooth.isPresent()) {
        Optional<Mount> wanted = plan.mount(scene);
        if (number != mounted || !wanted.equals(mount)) {
          mounted = 0;
          withdraw();
          place(tooth.get(), wanted);
          zero(tooth.get(), scene);
          mounted = number;
          mount = wanted;
        }
        withdraw();
        done("Tooth " + tooth.get().name() + ": " + filling(scene) + ".");
      }
      bench.mount(scene);
    }

    /** Nobody mounts or fills a tooth with a file in it. */
    private void withdraw() throws BenchException {
      Optional<LinearStage> stage = bench.drivenStage();
      if (stage.isEmpty()) {
        done("Withdraw the file with the stage until its tip is above the tooth.");
        return;
      }
      if (!clear) {
        done("The stage goes to its home switch, away from the tooth. Check that all is clear.");
        clear = true;
      }
      stage.get().home();
    }

    private void place(ExtractedTooth tooth, Optional<Mount> wanted) throws BenchException {
      done(
          "Mount tooth "
              + tooth.name()
              + " in "
              + wanted
                  .map(Mount::words)
                  .orElseGet(
                      () -> tooth.medium() + " at " + decimal(tooth.temperatureTenths(), 1) + " °C")
              + ".");
      if (wanted.isPresent()) {
        measure(tooth, wanted.get());
      }
      done("Put the lip clip into the medium, and the file clip on the file.");
    }

    /** What the plan states of a mount is measured again; a value outside is asked for again. */
    private void measure(ExtractedTooth tooth, Mount wanted) throws BenchException {
      int nominal = wanted.nominalCelsius();
      long celsius =
          number(
              "Temperature of the medium; wait until it is " + nominal + " ± 1 °C",
              "°C",
              nominal - OFF_CELSIUS,
              nominal + OFF_CELSIUS);
      long siemens = number("Conductivity of the medium at this temperature", "S/m", 0.01, 10);
      long hours = number("Age of the medium; make it anew above 168 h", "h", 0, 168);
      measured.add(
          tooth.name()
              + ": "
              + wanted.medium()
              + " at "
              + decimal(celsius, 3)
              + " °C, "
              + decimal(siemens, 3)
              + " S/m, "
              + decimal(hours, 3)
              + " h old");
    }

    private long number(String what, String unit, double low, double high) throws BenchException {
      Optional<Long> typed = attendant.thousandths(what, unit, low, high);
      if (typed.isEmpty()) {
        throw leave("not measured: " + what);
      }
      return typed.get();
    }

    @Override
    public Optional<DeviceWatch> deviceWatch() {
      return bench.deviceWatch().map(watch -> new AttendedWatch(watch, this));
    }

    /** The distance at rest, seen at the foramen. */
    private Optional<TipSeen> advance(int expectedMicrons) throws BenchException {
      Optional<LinearStage> stage = bench.drivenStage();
      Optional<TipSeen> tip =
          stage.isPresent()
              ? TipAdvance.ask(stage.get(), attendant, expectedMicrons)
              : attendant
                  .thousandths(
                      "Advance the file in steps of 0.02 mm until its tip shows at the foramen; way"
                          + " from the stop",
                      "mm",
                      0,
                      JOG_MM)
                  .map(way -> TipSeen.after(way.intValue()));
      if (tip.isEmpty()) {
        throw leave("the tip was not seen at the foramen");
      }
      return tip;
    }

    private void zero(ExtractedTooth tooth, Scene scene) throws BenchException {
      Optional<LinearStage> stage = bench.drivenStage();
      if (stage.isPresent()) {
        jog(stage.get());
      } else {
        done("Move the stage until the tip touches the reference point.");
      }
      bench.mount(zeroed(scene));
      bench.safeStop();
      attendant.tell(
          "The stage counts from here: "
              + decimal(tooth.lengthMicrons(), 3)
              + " mm short of the foramen.");
    }

    /** A number moves the stage, and an answer of 0 sets the zero. */
    private void jog(LinearStage stage) throws BenchException {
      LinearStage.Status at = stage.status();
      while (true) {
        Optional<Long> way =
            attendant.thousandths(
                "Bring the tip to the reference point. Travel towards the foramen, negative away from"
                    + " it, at 1 mm/s; 0 when the tip touches the reference point",
                "mm",
                -JOG_MM,
                JOG_MM);
        if (way.isEmpty()) {
          throw leave("the reference point was not confirmed");
        }
        if (way.get() == 0) {
          return;
        }
        long to = at.positionMicrons() + way.get();
        if (to < at.leastMicrons() || to > at.mostMicrons()) {
          attendant.tell(
              decimal(to, 3)
                  + " mm is outside of the travel, "
                  + decimal(at.leastMicrons(), 3)
                  + " to "
                  + decimal(at.mostMicrons(), 3)
                  + " mm from home.");
        } else {
          at =
              stage.moveTo(
                  (int) to, (int) Math.min(JOG_MICRONS_PER_SECOND, at.fastestMicronsPerSecond()));
        }
      }
    }

    private void done(String request) throws BenchException {
      if (!attendant.asked(request)) {
        throw leave("not confirmed: " + request);
      }
    }

    private BenchException leave(String why) {
      left = true;
      return new BenchException(RigFault.REFUSED, why);
    }
  }

  /** A watch beside which a person looks at the foramen. */
  private record AttendedWatch(DeviceWatch watch, AttendedBench desk) implements DeviceWatch {
    @Override
    public List<String> models() {
      return watch.models();
    }

    @Override
    public void attach(ClampedDevice device) {
      watch.attach(device);
    }

    @Override
    public Set<DeviceFault> playable() {
      return watch.playable();
    }

    @Override
    public void play(Optional<DeviceFault> fault) {
      watch.play(fault);
    }

    @Override
    public CircuitCheck circuit() throws BenchException {
      return watch.circuit();
    }

    @Override
    public void drain(List<Watched> into) {
      watch.drain(into);
    }

    @Override
    public Optional<TipSeen> advance(int expectedMicrons) throws BenchException {
      return desk.advance(expectedMicrons);
    }
  }

  private static Scene zeroed(Scene scene) {
    ParameterValues tooth = scene.section("tooth");
    Map<String, String> values =
        Map.of(
            ToothSection.NUMBER.key(),
            ToothSection.NUMBER.human(tooth.get(ToothSection.NUMBER)),
            ToothSection.ZERO.key(),
            ToothSection.HERE);
    try {
      return scene.taking("tooth", Scene.of(Map.of("tooth", values), scene.seed()));
    } catch (SettingsException e) {
      throw new IllegalStateException("the zero of a tooth is always possible", e);
    }
  }

  /** How the canal is filled for a trial; the reference point is at the height of the orifice. */
  private static String filling(Scene scene) {
    ParameterValues fluid = scene.section("fluid");
    int level = fluid.getInt(FluidSection.LEVEL);
    int length = scene.section("canal").getInt(CanalSection.LENGTH);
    if (level == 0) {
      return "dry the canal and the chamber";
    }
    Irrigant irrigant = FluidSection.irrigant(fluid);
    String name =
        irrigant == Irrigant.UNNAMED
            ? "a fluid of "
                + FluidSection.CONDUCTIVITY.human(fluid.get(FluidSection.CONDUCTIVITY))
                + " S/m"
            : irrigant.key().replace('_', ' ');
    String height =
        level > length
            ? "to " + decimal(level - length, 3) + " mm above the orifice, into the chamber"
            : level == length
                ? "to the orifice, and dry the chamber"
                : "to " + decimal(length - level, 3) + " mm below the orifice, and dry the chamber";
    return "fill the canal with "
        + name
        + " at "
        + FluidSection.TEMPERATURE.human(fluid.get(FluidSection.TEMPERATURE))
        + " °C "
        + height;
  }

  private static String decimal(long value, int decimals) {
    return BigDecimal.valueOf(value, decimals).toPlainString();
  }
}
