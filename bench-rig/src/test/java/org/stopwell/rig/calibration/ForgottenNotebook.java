package org.stopwell.rig.calibration;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/** A notebook that is forgotten with the test. */
public final class ForgottenNotebook implements Notebook {
  private final Map<Quantity, List<Long>> all = new EnumMap<>(Quantity.class);

  @Override
  public List<Long> taken(Quantity quantity) {
    return List.copyOf(all.getOrDefault(quantity, List.of()));
  }

  @Override
  public void take(Quantity quantity, long thousandths) {
    all.computeIfAbsent(quantity, q -> new ArrayList<>()).add(thousandths);
  }
}
