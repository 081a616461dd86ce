package org.stopwell.core.trace;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;

class EventRingTest {

  @Test
  void theOldestGivesWayToTheNewest() {
    EventRing ring = new EventRing(3);
    Event event = new Event();
    for (int i = 0; i < 5; i++) {
      event.timeNs = i;
      ring.add(event);
    }
    assertEquals(5, ring.count());
    assertEquals(2, ring.oldest());
    ring.get(2, event);
    assertEquals(2, event.timeNs);
    ring.get(4, event);
    assertEquals(4, event.timeNs);
    assertThrows(IndexOutOfBoundsException.class, () -> ring.get(1, event));
    assertEquals(
        "event 5 is outside 2 to 4",
        assertThrows(IndexOutOfBoundsException.class, () -> ring.get(5, event)).getMessage());
  }

  @Test
  void anEventThatHasGivenWayStillCountsInTheHash() {
    EventRing a = new EventRing(1);
    EventRing b = new EventRing(1);
    Event event = new Event();
    event.timeNs = 1;
    a.add(event);
    event.timeNs = 2;
    b.add(event);
    event.timeNs = 3;
    a.add(event);
    b.add(event);
    assertNotEquals(a.mixInto(0), b.mixInto(0));
  }

  @Test
  void aRingHoldsAtLeastOne() {
    assertThrows(IllegalArgumentException.class, () -> new EventRing(0));
  }
}
