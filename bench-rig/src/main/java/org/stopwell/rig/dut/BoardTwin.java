package org.stopwell.rig.dut;

import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.DutException;
import org.stopwell.rig.device.twin.MakersCurve;
import org.stopwell.rig.device.twin.Twin;

/**
 * A board under test as a device with a motor of its own. It decides in every control period; its
 * motor keeps the command until the next one.
 */
final class BoardTwin implements Twin {
  private static final int FREQUENCIES = 4;

  private final Dut board;
  private final ControllerSettings settings;
  private final Stage stage;
  private final long periodNs;
  private final ControllerOutput held = new ControllerOutput();
  private boolean begun;
  private long dueNs;
  private @Nullable DutException failure;
  private @Nullable BenchException cut;

  BoardTwin(Dut board, ControllerSettings settings, Stage stage, long periodNs) {
    this.board = board;
    this.settings = settings;
    this.stage = stage;
    this.periodNs = periodNs;
  }

  /** The frequencies that its settings ask for. With an outside locator there are none. */
  @Override
  public Map<String, String> frontEnd() {
    Map<String, String> section = new LinkedHashMap<>();
    int[] hertz = settings.sensedHertz();
    for (int i = 0; hertz.length > 0 && i < FREQUENCIES; i++) {
      section.put(
          "frequency_" + (i + 1) + "_hz", Integer.toString(i < hertz.length ? hertz[i] : 0));
    }
    return section;
  }

  /** Its curve is among its settings. With each scene it is switched on anew. */
  @Override
  public void learn(MakersCurve curve) {
    begun = false;
    dueNs = 0;
    held.clear();
  }

  /** A board that failed leaves the motor alone, as its watchdog does. */
  @Override
  public void step(long nowNs, ControllerInput in, ControllerOutput out) {
    if (failure == null && cut == null && nowNs >= dueNs) {
      dueNs = nowNs + periodNs;
      in.stage = stage;
      try {
        if (!begun) {
          board.begin(settings);
          begun = true;
        }
        board.step(nowNs, in, held);
      } catch (DutException e) {
        failure = e;
        held.clear();
      } catch (BenchException e) {
        cut = e;
        held.clear();
      }
    }
    out.copyFrom(held);
  }

  void verify() throws BenchException, DutException {
    if (failure != null) {
      throw failure;
    }
    if (cut != null) {
      throw cut;
    }
  }

  @Override
  public long lagNs() {
    return -1;
  }
}
