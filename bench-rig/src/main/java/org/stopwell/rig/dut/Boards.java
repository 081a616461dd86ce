package org.stopwell.rig.dut;

import java.util.List;
import java.util.Optional;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Decider;
import org.stopwell.rig.bench.DutException;

/** The boards at all ports. Each trial goes to the one that holds its settings. */
final class Boards implements Decider {
  private final List<Dut> all;
  private Dut chosen;

  Boards(List<Dut> all) {
    this.all = List.copyOf(all);
    chosen = all.get(0);
  }

  /** The board with the settings; the first one where none has them, to say what it holds. */
  private Dut with(ControllerSettings settings) {
    return all.stream().filter(board -> board.holds(settings)).findFirst().orElse(all.get(0));
  }

  @Override
  public Optional<String> lack(ControllerSettings settings) {
    return with(settings).lack(settings);
  }

  @Override
  public void begin(ControllerSettings settings) throws BenchException, DutException {
    chosen = with(settings);
    chosen.begin(settings);
  }

  @Override
  public void beginAlone(ControllerSettings settings, Stage stage)
      throws BenchException, DutException {
    chosen = with(settings);
    chosen.beginAlone(settings, stage);
  }

  @Override
  public void verify() throws BenchException, DutException {
    chosen.verify();
  }

  @Override
  public void step(long nowNs, ControllerInput in, ControllerOutput out)
      throws BenchException, DutException {
    chosen.step(nowNs, in, out);
  }

  @Override
  public long stateHash() {
    return chosen.stateHash();
  }
}
