package org.stopwell.rig.wire;

import static org.stopwell.rig.wire.Message.MOUNT_PLACE;
import static org.stopwell.rig.wire.Message.NETWORK;
import static org.stopwell.rig.wire.Message.WATCHED;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.network.ChainParts;
import org.stopwell.rig.network.ChainTable.Place;

/** The messages of a board that plays a chain to a device under test and watches it. */
public final class DeviceFields {
  /** Steps of the angle in one turn. */
  private static final int STEPS_PER_TURN = 4096;

  private static final int FORCE_STEP_MILLINEWTONS = 20;

  private static final int PLACE = MOUNT_PLACE.index("remaining_microns");
  private static final int PLACE_OHMS = MOUNT_PLACE.index("ohms");
  private static final int PLACE_CAPACITORS = MOUNT_PLACE.index("capacitors");

  private static final int FAULT = NETWORK.index("fault");
  private static final int LEAK = NETWORK.index("leak_kilo_ohms");
  private static final int STRAY = NETWORK.index("stray_picofarads");
  private static final int PART = NETWORK.index("part");
  private static final int MEASURED = NETWORK.index("measured_ohms");
  private static final int WANTED = NETWORK.index("wanted_ohms");
  private static final int MOST_PLACES = NETWORK.index("most_places");
  private static final int PICOFARADS = NETWORK.index("picofarads");
  private static final int LEAST_OHMS = NETWORK.index("least_ohms");
  private static final int MOST_OHMS = NETWORK.index("most_ohms");

  private static final int FIRST_NS = WATCHED.index("first_ns");
  private static final int EACH_NS = WATCHED.index("each_ns");
  private static final int FIRST_STEPS = WATCHED.index("first_steps");
  private static final int FIRST_MICRONS = WATCHED.index("first_microns");
  private static final int LOST = WATCHED.index("lost");
  private static final int ENTRIES = WATCHED.index("entries");

  /** A place may change by so much in an entry, µm: six bits. */
  private static final int LEAST_MOVE = -32;

  private static final int MOST_MOVE = 31;

  private static final int MOST_FORCE_STEPS = 255;

  /** What an open chain measures, Ω: the greatest number of the field. */
  private static final long OPEN_OHMS = 0xFFFF_FFFFL;

  /** Most entries of one answer. */
  private static final int MOST_ENTRIES = WATCHED.fields().get(ENTRIES).max();

  private DeviceFields() {}

  /**
   * A chain as its board has measured it.
   *
   * @param parts resistances, capacitors and stray capacitance
   * @param mostPlaces greatest number of places of a table
   * @param leakKiloOhms leak of the floating chain, kΩ
   * @param strayPicoFarads its stray capacitance, pF
   * @param fault why it is not in order, in words; empty when it is
   */
  public record Network(
      ChainParts parts, int mostPlaces, int leakKiloOhms, int strayPicoFarads, String fault) {}

  /**
   * Fills a packet that has begun as a place.
   *
   * @param packet receives the fields
   * @param place what to show where
   * @param capacitors which switched capacitors are in
   */
  public static void put(Packet packet, Place place, int capacitors) {
    int[] ohms = place.ohms().stream().mapToInt(each -> (int) Math.round(each)).toArray();
    packet
        .set(PLACE, Math.round(place.remaining() * 1e6))
        .set(PLACE_OHMS, ohms, ohms.length)
        .set(PLACE_CAPACITORS, capacitors);
  }

  /**
   * Reads a {@link Message#NETWORK}.
   *
   * @param packet the answer
   * @return the chain
   * @throws IllegalArgumentException when its lists cannot be those of a chain
   */
  public static Network network(Packet packet) {
    List<Double> all = list(packet, PICOFARADS).stream().map(each -> each * 1e-12).toList();
    List<List<Double>> farads = new ArrayList<>();
    for (int k = 0; k < all.size(); k += ChainParts.CAPACITORS) {
      farads.add(all.subList(k, Math.min(k + ChainParts.CAPACITORS, all.size())));
    }
    int stray = packet.integer(STRAY);
    ChainParts parts =
        new ChainParts(farads, list(packet, LEAST_OHMS), list(packet, MOST_OHMS), stray * 1e-12);
    long leak = Math.min(Integer.MAX_VALUE, packet.number(LEAK));
    String fault =
        switch (NETWORK.fields().get(FAULT).words().get(packet.integer(FAULT))) {
          case "STRAY" ->
              "stray capacitance "
                  + stray
                  + " pF, limit "
                  + CircuitCheck.STRAY_PICO_FARADS
                  + " pF; shorten the wires between chain and relays";
          case "LEAK" ->
              "leak "
                  + leak
                  + " kΩ, limit "
                  + CircuitCheck.LEAK_KILO_OHMS
                  + " kΩ; clean and dry board, relays and plugs";
          case "PART" ->
              "resistor "
                  + packet.number(PART)
                  + ": "
                  + packet.number(MEASURED)
                  + " Ω measured, "
                  + packet.number(WANTED)
                  + " Ω wanted; check the resistor and its relay";
          default -> "";
        };
    return new Network(parts, packet.integer(MOST_PLACES), (int) leak, stray, fault);
  }

  /**
   * Fills a {@link Message#NETWORK} that has begun, as a board does that has the nominal chain.
   *
   * @param packet receives the fields
   * @param circuit what the board found
   */
  public static void put(Packet packet, CircuitCheck circuit) {
    String fault = "NONE";
    if (circuit.strayPicoFarads() > CircuitCheck.STRAY_PICO_FARADS) {
      fault = "STRAY";
    } else if (circuit.leakKiloOhms() < CircuitCheck.LEAK_KILO_OHMS) {
      fault = "LEAK";
    } else if (!circuit.closed()) {
      fault = "PART";
    }
    ChainParts parts = ChainParts.NOMINAL;
    long least = Math.round(parts.leastOhms().stream().mapToDouble(Double::doubleValue).sum());
    packet
        .set(FAULT, NETWORK.fields().get(FAULT).words().indexOf(fault))
        .set(LEAK, circuit.leakKiloOhms())
        .set(STRAY, circuit.strayPicoFarads())
        .set(PART, 0)
        .set(MEASURED, circuit.closed() ? least : OPEN_OHMS)
        .set(WANTED, least)
        .set(MOST_PLACES, 0);
    put(packet, PICOFARADS, parts.farads().stream().flatMap(List::stream).toList(), 1e12);
    put(packet, LEAST_OHMS, parts.leastOhms(), 1);
    put(packet, MOST_OHMS, parts.mostOhms(), 1);
  }

  private static void put(Packet packet, int field, List<Double> values, double scale) {
    int[] whole = values.stream().mapToInt(each -> (int) Math.round(each * scale)).toArray();
    packet.set(field, whole, whole.length);
  }

  private static List<Double> list(Packet packet, int field) {
    List<Double> values = new ArrayList<>();
    for (int k = 0; k < packet.number(field); k++) {
      values.add((double) packet.entry(field, k));
    }
    return values;
  }

  /**
   * Reads a {@link Message#WATCHED}.
   *
   * @param packet the answer
   * @param into receives the samples
   * @return whether there can be more
   */
  public static boolean samples(Packet packet, List<Watched> into) {
    long steps = packet.number(FIRST_STEPS);
    int microns = packet.integer(FIRST_MICRONS);
    long count = packet.number(ENTRIES);
    for (int k = 0; k < count; k++) {
      int entry = packet.entry(ENTRIES, k);
      int moved = entry << 10 >> 26;
      boolean marked = (entry >> 22 & 1) == 1;
      boolean witnessed = (entry >> 23 & 1) == 1;
      int force = (entry >>> 24) * FORCE_STEP_MILLINEWTONS;
      for (int half = 0; half < 2; half++) {
        steps += half == 0 ? (byte) entry : (byte) (entry >> 8);
        microns += half == 0 ? 0 : moved;
        into.add(
            new Watched(
                packet.number(FIRST_NS) + (2L * k + half) * packet.number(EACH_NS),
                steps * 360_000 / STEPS_PER_TURN,
                microns,
                force,
                marked,
                witnessed));
      }
    }
    return count == MOST_ENTRIES;
  }

  /**
   * Fills a {@link Message#WATCHED} that has begun with as many samples as it can hold without a
   * gap: none may be missing, and no step of the angle or the place may be greater than an entry
   * can state.
   *
   * @param packet receives the fields
   * @param samples what waits, in pairs; what was put is removed from its beginning
   * @param eachNs time from sample to sample, ns
   * @param lost samples lost since the mount
   */
  public static void put(Packet packet, List<Watched> samples, long eachNs, long lost) {
    Watched first = samples.isEmpty() ? new Watched(0, 0, 0, 0, false, false) : samples.get(0);
    long steps = steps(first);
    int microns = first.shankMicrons();
    packet
        .set(FIRST_NS, first.timeNs())
        .set(EACH_NS, eachNs)
        .set(FIRST_STEPS, steps)
        .set(FIRST_MICRONS, microns)
        .set(LOST, lost);
    int[] entries = new int[MOST_ENTRIES];
    int count = 0;
    while (count < MOST_ENTRIES && 2 * count + 1 < samples.size()) {
      Watched a = samples.get(2 * count);
      Watched b = samples.get(2 * count + 1);
      long turnA = steps(a) - steps;
      long turnB = steps(b) - steps(a);
      int moved = b.shankMicrons() - microns;
      long late = b.timeNs() - first.timeNs() - (2L * count + 1) * eachNs;
      boolean fits =
          turnA == (byte) turnA
              && turnB == (byte) turnB
              && moved >= LEAST_MOVE
              && moved <= MOST_MOVE
              && Math.abs(late) < eachNs / 2;
      if (!fits) {
        break;
      }
      int force = Math.round((float) b.forceMilliNewtons() / FORCE_STEP_MILLINEWTONS);
      entries[count++] =
          ((int) turnA & 0xFF)
              | (((int) turnB & 0xFF) << 8)
              | ((moved & 0x3F) << 16)
              | (a.marked() || b.marked() ? 1 << 22 : 0)
              | (a.witnessed() || b.witnessed() ? 1 << 23 : 0)
              | (Math.max(0, Math.min(MOST_FORCE_STEPS, force)) << 24);
      steps = steps(b);
      microns = b.shankMicrons();
    }
    packet.set(ENTRIES, entries, count);
    samples.subList(0, 2 * count).clear();
  }

  private static long steps(Watched sample) {
    return Math.round(sample.angleMilliDegrees() * (double) STEPS_PER_TURN / 360_000);
  }
}
