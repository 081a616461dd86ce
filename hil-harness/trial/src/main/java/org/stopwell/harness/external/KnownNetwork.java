package org.stopwell.harness.external;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.CanalKind;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.time.Pace;

/**
 * Asks a device that did not turn in a trial whether it turns at all. From rotation and depth alone
 * a device without a reading looks like one that never starts.
 *
 * <p>The bench shows the reference canal with fluid, feeds to its middle, and stays there. A device
 * that turns there had no reading in the canal of the trial.
 */
final class KnownNetwork {
  /** The whole time: feed to the middle in 4 s, and as long again there, ns; assumed. */
  static final long LASTS_NS = 8_000_000_000L;

  /** Middle of the reference canal below its orifice, and the fluid above its foramen, mm. */
  private static final String MIDDLE_MM = "8";

  private static final String LEVEL_MM = "12";

  /** Feed to the middle, mm/s. */
  private static final String FEED_MM_PER_S = "2";

  /** A motor has turned by more, °: far above the noise of the sensor; assumed. */
  private static final double TURNED = 90;

  private final Bench bench;
  private final DeviceWatch watch;
  private final Supplier<Pace> paces;

  KnownNetwork(Bench bench, DeviceWatch watch, Supplier<Pace> paces) {
    this.bench = bench;
    this.watch = watch;
    this.paces = paces;
  }

  /** Shows the network; a bench that cannot show it leaves the question open. */
  NetworkAnswer ask(Scene trial, BooleanSupplier abandon) throws BenchException {
    try {
      bench.mount(known(trial));
    } catch (BenchException e) {
      if (e.fault() == RigFault.REFUSED) {
        return NetworkAnswer.NOT_ASKED;
      }
      throw e;
    }
    ControllerInput in = new ControllerInput();
    ControllerOutput nothing = new ControllerOutput();
    List<Watched> some = new ArrayList<>();
    Pace pace = paces.get();
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    for (long nowNs = 0; nowNs < LASTS_NS && !abandon.getAsBoolean(); ) {
      nowNs = pace.next();
      bench.exchange(nowNs, nothing, in);
      some.clear();
      watch.drain(some);
      for (Watched each : some) {
        least = Math.min(least, each.angleMilliDegrees() * 1e-3);
        most = Math.max(most, each.angleMilliDegrees() * 1e-3);
      }
      if (most - least > TURNED) {
        return NetworkAnswer.TURNED;
      }
    }
    return NetworkAnswer.STAYED;
  }

  /** A device that was tried on a network of components is asked on the same kind of network. */
  private Scene known(Scene trial) {
    CanalKind kind = CanalSection.kind(trial.section("canal"));
    if (!kind.isBuilt()) {
      kind = bench.describe().simulated() ? CanalKind.TOOTH : CanalKind.CHAIN;
    }
    Map<String, Map<String, String>> written =
        Map.of(
            "canal",
            Map.of(CanalSection.KIND.key(), kind.name().toLowerCase(Locale.ROOT)),
            "fluid",
            Map.of(FluidSection.LEVEL.key(), LEVEL_MM),
            "hand",
            Map.of(
                HandSection.MOTION.key(),
                "stage",
                HandSection.START_ABOVE.key(),
                "0",
                HandSection.PASSIVE_DEPTH.key(),
                MIDDLE_MM,
                HandSection.FEED.key(),
                FEED_MM_PER_S));
    try {
      Scene plain = Scene.of(written, trial.seed());
      return plain.taking("file", trial).taking("motor", trial).taking("front_end", trial);
    } catch (SettingsException e) {
      throw new IllegalStateException("the reference canal is always possible", e);
    }
  }
}
