package org.stopwell.core.guard;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.trace.StateHash;

/**
 * Counts the turns of each file in the canal: each is one cycle of bending in a curve. Stages whose
 * files have the same values use the same file.
 */
public final class FileLife {
  /** One turn in the unit of milli-rpm times nanoseconds: 1000 · 60 · 10⁹. */
  private static final long TURN = 60_000_000_000_000L;

  private final int[] fileOfStage = new int[Stage.values().length];
  private final long[] limit;
  private final long[] turns;
  private final long[] part;

  /**
   * New files.
   *
   * @param settings checked settings
   */
  public FileLife(ControllerSettings settings) {
    List<ParameterValues> files = new ArrayList<>();
    for (Stage stage : Stage.values()) {
      if (settings.has(stage)) {
        fileOfStage[stage.code()] = indexOf(settings.file(stage), files);
      }
    }
    limit = new long[files.size()];
    turns = new long[files.size()];
    part = new long[files.size()];
    for (int i = 0; i < limit.length; i++) {
      limit[i] = files.get(i).get(FileParameters.TURNS_LIMIT);
    }
  }

  private static int indexOf(ParameterValues file, List<ParameterValues> files) {
    for (int i = 0; i < files.size(); i++) {
      if (same(files.get(i), file)) {
        return i;
      }
    }
    files.add(file);
    return files.size() - 1;
  }

  private static boolean same(ParameterValues one, ParameterValues other) {
    for (Parameter p : FileParameters.TABLE.parameters()) {
      if (one.get(p) != other.get(p)) {
        return false;
      }
    }
    return true;
  }

  /**
   * One step.
   *
   * @param dtNs time since the step before, ns
   * @param stage the stage at work, one that is in the settings
   * @param speedMilliRpm measured speed in the canal, 0 out of it, milli-rpm
   * @param arbiter asked when the file has turned as often as it may
   */
  public void update(long dtNs, Stage stage, int speedMilliRpm, Arbiter arbiter) {
    int file = fileOfStage[stage.code()];
    part[file] += Math.abs((long) speedMilliRpm) * dtNs;
    if (part[file] >= TURN) { // two divisions in each step are 2 % of it
      turns[file] += part[file] / TURN;
      part[file] %= TURN;
    }
    if (limit[file] > 0 && turns[file] >= limit[file]) {
      arbiter.ask(Reaction.HOLD, Reason.FILE_SPENT);
    }
  }

  /**
   * Turns so far of the file of a stage.
   *
   * @param stage a stage that is in the settings
   * @return whole turns
   */
  public long turns(Stage stage) {
    return turns[fileOfStage[stage.code()]];
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    long h = hash;
    for (int i = 0; i < turns.length; i++) {
      h = StateHash.mix(StateHash.mix(h, turns[i]), part[i]);
    }
    return h;
  }
}
