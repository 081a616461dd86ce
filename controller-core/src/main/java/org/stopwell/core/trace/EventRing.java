package org.stopwell.core.trace;

/** The last changes of state, in a ring of fixed size: the oldest gives way to the newest. */
public final class EventRing {
  private final Event[] ring;
  private long count;
  private long digest = StateHash.START;

  /**
   * An empty ring.
   *
   * @param capacity how many events it holds, at least 1
   */
  public EventRing(int capacity) {
    if (!(capacity >= 1)) {
      throw new IllegalArgumentException("capacity " + capacity + " is below 1");
    }
    ring = new Event[capacity];
    for (int i = 0; i < capacity; i++) {
      ring[i] = new Event();
    }
  }

  /**
   * Adds an event.
   *
   * @param event copied
   */
  public void add(Event event) {
    ring[(int) (count % ring.length)].copyFrom(event);
    digest = event.mixInto(digest);
    count++;
  }

  /**
   * How many events were ever added.
   *
   * @return a count from 0; the index of the next event
   */
  public long count() {
    return count;
  }

  /**
   * The index of the oldest event still held.
   *
   * @return an index from 0
   */
  public long oldest() {
    return Math.max(0, count - ring.length);
  }

  /**
   * Reads one event.
   *
   * @param index from {@link #oldest()} to {@link #count()} - 1
   * @param into overwritten
   */
  public void get(long index, Event into) {
    if (!(index >= oldest() && index < count)) {
      throw new IndexOutOfBoundsException(
          "event " + index + " is outside " + oldest() + " to " + (count - 1));
    }
    into.copyFrom(ring[(int) (index % ring.length)]);
  }

  /**
   * Folds in every event ever added.
   *
   * @param hash the hash so far
   * @return the hash with them
   */
  public long mixInto(long hash) {
    return StateHash.mix(StateHash.mix(hash, count), digest);
  }
}
