package org.stopwell.harness.trace;

import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;

/**
 * Steps a controller through a trace. Between two rows it steps every millisecond, as on a bench,
 * with the sample of the row before: however slowly a trace is sampled, time passes as finely.
 */
public final class TraceStepper {
  /** Time between two steps, as on the virtual bench, ns. */
  static final long TICK_NS = 1_000_000;

  /** Over a longer gap between two rows the controller is not stepped, ns; assumed: a pause. */
  static final long LONGEST_GAP_NS = 1_000_000_000;

  private final CsvColumns columns;
  private final StopController controller;
  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private boolean begun;
  private long nowNs;

  /**
   * A controller at rest.
   *
   * @param columns the columns of the trace
   * @param settings its settings
   * @param policies the policies that they may name
   * @param stage stage of work
   */
  public TraceStepper(
      CsvColumns columns, ControllerSettings settings, Policies policies, Stage stage) {
    this.columns = columns;
    controller = new StopController(settings, policies);
    in.stage = stage;
  }

  /**
   * One step between two rows.
   *
   * @param rowNs time of the row that comes next, ns
   * @return false when that row is due: then nothing was stepped
   */
  public boolean before(long rowNs) {
    if (!begun) {
      begun = true;
      nowNs = rowNs - TICK_NS;
      if (!columns.demand()) {
        // The operator presses as the trace begins: a file in the canal starts by a press alone.
        in.demand = false;
        in.positionKind = PositionKind.ABSENT;
        controller.step(nowNs, in, out);
        in.demand = true;
      }
    }
    if (rowNs - nowNs > LONGEST_GAP_NS || rowNs - nowNs <= TICK_NS) {
      return false;
    }
    nowNs += TICK_NS;
    if (!columns.speed()) {
      in.speedMilliRpm = commandedMilliRpm();
    }
    controller.step(nowNs, in, out);
    return true;
  }

  /**
   * The step of a row, whose values are in {@link #in}.
   *
   * @param rowNs its time, ns
   */
  public void at(long rowNs) {
    nowNs = rowNs;
    controller.step(nowNs, in, out);
  }

  /**
   * The time of the last step.
   *
   * @return ns
   */
  public long nowNs() {
    return nowNs;
  }

  /**
   * The speed that the controller commands.
   *
   * @return signed, milli-rpm
   */
  public int commandedMilliRpm() {
    return out.drive == Drive.FORWARD
        ? out.speedMilliRpm
        : out.drive == Drive.BACKWARD ? -out.speedMilliRpm : 0;
  }

  /**
   * What the controller gets.
   *
   * @return reused
   */
  public ControllerInput in() {
    return in;
  }

  /**
   * What the controller said in the last step.
   *
   * @return reused
   */
  public ControllerOutput out() {
    return out;
  }

  /**
   * The controller itself.
   *
   * @return for its events
   */
  public StopController controller() {
    return controller;
  }
}
