package org.stopwell.rig.serial;

import java.util.List;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.network.ChainTable;
import org.stopwell.rig.network.StepTable;
import org.stopwell.rig.virtual.ToothSteps;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.DeviceFields;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.SceneFields;
import org.stopwell.rig.wire.StepFields;

/** Sends a scene to a board: its values, and the tables by position that some boards need. */
final class SceneSender {
  /** Where capacitance counts most: the highest frequency of the usual ones, rad/s (assumed). */
  private static final double STEPS_RAD_PER_S = 2 * Math.PI * 8_000;

  private static final int SEED = Message.MOUNT_BEGIN.index("seed");
  private static final int VALUES = Message.MOUNT_BEGIN.index("values");
  private static final int STEPS = Message.MOUNT_BEGIN.index("steps");

  private SceneSender() {}

  /** A board of resistors and capacitors knows no tooth: it gets the values by position. */
  static List<StepTable.Step> steps(Scene scene, BoardIdentity board) {
    return board.mostSteps() > 0 && ToothSteps.areWantedBy(scene)
        ? ToothSteps.of(scene).thinned(board.mostSteps(), STEPS_RAD_PER_S).steps()
        : List.of();
  }

  /**
   * What a board with a chain shows.
   *
   * @param capacitors which switched capacitors are in
   * @param places resistances by position; none for every other board
   */
  record ShownChain(int capacitors, List<ChainTable.Place> places) {
    static final ShownChain NONE = new ShownChain(0, List.of());
  }

  /** Sends all but the end of a mount. */
  static void send(
      Dialogue dialogue, Link link, Scene scene, List<StepTable.Step> steps, ShownChain shown)
      throws BenchException {
    List<SceneFields.Value> values = SceneFields.of(scene);
    dialogue
        .request(Message.MOUNT_BEGIN)
        .set(SEED, scene.seed())
        .set(VALUES, values.size())
        .set(STEPS, steps.size() + shown.places().size());
    BoardCheck.accept(link, dialogue.ask(Message.OK));
    for (SceneFields.Value value : values) {
      value.put(dialogue.request(Message.MOUNT_VALUE));
      BoardCheck.accept(link, dialogue.ask(Message.OK));
    }
    for (StepTable.Step step : steps) {
      StepFields.put(dialogue.request(Message.MOUNT_STEP), step);
      BoardCheck.accept(link, dialogue.ask(Message.OK));
    }
    for (ChainTable.Place place : shown.places()) {
      DeviceFields.put(dialogue.request(Message.MOUNT_PLACE), place, shown.capacitors());
      BoardCheck.accept(link, dialogue.ask(Message.OK));
    }
  }
}
