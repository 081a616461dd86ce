package org.stopwell.harness.replay;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.stopwell.core.Explain;
import org.stopwell.core.StopController;
import org.stopwell.core.trace.Event;

/** Turns the controller's changes of state into sentences as they come. */
final class EventReader {
  private final StopController controller;
  private final List<String> sentences = new ArrayList<>();
  private final Event event = new Event();
  private long seen;

  EventReader(StopController controller) {
    this.controller = controller;
  }

  void collect() {
    for (; seen < controller.events().count(); seen++) {
      controller.events().get(seen, event);
      sentences.add(
          String.format(
              Locale.ROOT,
              "%10.1f ms  %-7s  %s",
              event.timeNs / 1e6,
              event.to.name(),
              Explain.event(event)));
    }
  }

  List<String> sentences() {
    return List.copyOf(sentences);
  }
}
