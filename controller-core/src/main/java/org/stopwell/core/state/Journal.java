package org.stopwell.core.state;

import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.sense.PositionSense;
import org.stopwell.core.trace.Event;
import org.stopwell.core.trace.EventRing;

/** Writes down every change of state with the numbers that decided. */
final class Journal {
  private static final int EVENTS = 64;
  private static final long NS_PER_MICROSECOND = 1_000;

  final EventRing events = new EventRing(EVENTS);
  private final Event event = new Event();
  private final PositionSense sense;

  Journal(PositionSense sense) {
    this.sense = sense;
  }

  void write(
      long nowNs,
      State from,
      State to,
      Reason why,
      int speedMilliRpm,
      int torqueMicroNewtonMetres,
      StageSetup setup) {
    event.timeNs = nowNs;
    event.from = from;
    event.to = to;
    event.reason = why;
    event.trust = sense.trust();
    event.cause = sense.cause();
    event.readingPresent = sense.placed();
    event.remainingMicrons = sense.placed() ? (int) sense.remainingMicrons(nowNs) : 0;
    event.boundMicrons = sense.boundMicrons();
    event.closingMicronsPerSecond = (int) sense.closingMicronsPerSecond();
    event.signalAgeMicros =
        (int) Math.min(Integer.MAX_VALUE, Math.floorDiv(sense.ageNs(nowNs), NS_PER_MICROSECOND));
    event.speedMilliRpm = speedMilliRpm;
    event.torqueMicroNewtonMetres = torqueMicroNewtonMetres;
    event.standoffMicrons = setup.standoffMicrons + (int) sense.cautionMicrons();
    event.torqueLimitMicroNewtonMetres = setup.torqueMicroNewtonMetres;
    events.add(event);
  }
}
