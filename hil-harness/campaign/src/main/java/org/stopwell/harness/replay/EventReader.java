package org.stopwell.harness.replay;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.core.Explain;
import org.stopwell.core.StopController;
import org.stopwell.core.trace.Event;
import org.stopwell.harness.trial.Said;

/** Turns the controller's changes of state into sentences as they come. */
final class EventReader {
  private final StopController controller;
  private final List<Said> said = new ArrayList<>();
  private final Event event = new Event();
  private long seen;

  EventReader(StopController controller) {
    this.controller = controller;
  }

  void collect() {
    for (; seen < controller.events().count(); seen++) {
      controller.events().get(seen, event);
      said.add(new Said(event.timeNs, event.to, Explain.event(event)));
    }
  }

  List<Said> said() {
    return List.copyOf(said);
  }
}
