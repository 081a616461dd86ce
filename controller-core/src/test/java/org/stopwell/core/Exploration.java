package org.stopwell.core;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.trace.Event;

/**
 * Walks through every mode that a controller can reach over a small alphabet of what may happen to
 * it, breadth first, and checks at every step of every path that nothing forbidden happens.
 *
 * <p>One letter lasts 60 ms; all budgets of the settings are shorter, so that each letter has its
 * full effect. A mode is visited once; from each mode every letter is tried.
 */
final class Exploration {
  static final int LETTER_MS = 60;

  /** A bump touches the torque limit just long enough, ms. */
  private static final int BUMP_MS = 11;

  /** What may happen: the file is led to a place, or something is wrong where it is. */
  enum Letter {
    OUT,
    FAR,
    MIDDLE,
    NEAR,
    STANDOFF,
    PAST,
    LEAK,
    RAILED,
    SILENT,
    STOP_LINE,
    LINK,
    RELEASED,
    RESET,
    TORQUE,
    BUMP,
    WRONG_WAY,
    BAD_INPUT,
    TIME_JUMP
  }

  /** A change of state, as drawn in the diagram. */
  record Transition(State from, State to, String reason) implements Comparable<Transition> {
    @Override
    public int compareTo(Transition other) {
      int order = from.compareTo(other.from);
      order = order == 0 ? to.compareTo(other.to) : order;
      return order == 0 ? reason.compareTo(other.reason) : order;
    }
  }

  /** How long after a fault the motor may still turn, ms: budgets plus one sample of 5 ms. */
  static final Map<Letter, Integer> SAFE_WITHIN_MS = new EnumMap<>(Letter.class);

  static {
    SAFE_WITHIN_MS.put(Letter.STOP_LINE, 0);
    SAFE_WITHIN_MS.put(Letter.LINK, 0);
    SAFE_WITHIN_MS.put(Letter.RELEASED, 0);
    SAFE_WITHIN_MS.put(Letter.BAD_INPUT, 0);
    SAFE_WITHIN_MS.put(Letter.TIME_JUMP, 0);
    SAFE_WITHIN_MS.put(Letter.SILENT, 25);
    SAFE_WITHIN_MS.put(Letter.RAILED, 16);
    SAFE_WITHIN_MS.put(Letter.LEAK, 16);
    SAFE_WITHIN_MS.put(Letter.OUT, 16);
    // 20 ms before and 20 ms after a change of direction, which gives the budget back.
    SAFE_WITHIN_MS.put(Letter.WRONG_WAY, 46);
  }

  private record Node(List<Letter> path) {}

  private static final List<Exploration> ALL = new ArrayList<>();

  /** All stages, explored once for all tests. */
  static synchronized List<Exploration> all() {
    if (ALL.isEmpty()) {
      for (Map<String, Object> stage : STAGES) {
        Exploration exploration = new Exploration(stage);
        exploration.run();
        System.out.printf(
            "%s: %d modes, %d steps, at most %d changes in half a second of sameness%n",
            new TreeMap<>(stage),
            exploration.modes.size(),
            exploration.steps,
            exploration.worstChanges);
        ALL.add(exploration);
      }
    }
    return ALL;
  }

  private static final List<Map<String, Object>> STAGES =
      List.of(
          Map.of("apical", "hold", "on_torque", "hold"),
          Map.of("apical", "back-out", "on_torque", "back-out"),
          Map.of("apical", "hold", "on_torque", "rock", "motion", "reciprocate"),
          Map.of("apical", "back-out", "on_torque", "rock", "on_doubtful", "ease"));

  final Map<String, Map<String, Object>> settings;
  private boolean easesInDoubt;
  final Set<Long> modes = new HashSet<>();
  final Map<Transition, List<Letter>> transitions = new TreeMap<>();
  long steps;
  int worstChanges;

  private Exploration(Exploration other) {
    settings = other.settings;
    easesInDoubt = other.easesInDoubt;
  }

  Exploration(Map<String, Object> length) {
    settings = new LinkedHashMap<>(TestBench.settings());
    settings.put("sense", Map.of("enter_ms", 20, "leave_ms", 20));
    Map<String, Object> guard = new LinkedHashMap<>();
    for (String key : List.of("railed_ms", "open_ms", "unwetted_ms", "leaking_ms", "jumpy_ms")) {
      guard.put(key, 10);
    }
    guard.putAll(
        Map.of(
            "signal_age_ms", 20,
            "trust_rise_ms", 10,
            "jump_mm_s", 500,
            "torque_ms", 10,
            "wrong_direction_ms", 20,
            "stall_ms", 30,
            "runaway_ms", 40));
    settings.put("guard", guard);
    Map<String, Object> stage = new LinkedHashMap<>();
    stage.putAll(
        Map.of(
            "rearm_ms", 20,
            "back_out_ms", 40,
            "rock_ms", 50,
            "retries", 1,
            "retry_clear_ms", 100,
            "reaction_ms", 0,
            "learn_coast", false,
            "ramp_rpm_s", 100_000));
    stage.putAll(length);
    easesInDoubt = length.containsKey("on_doubtful");
    settings.put("stages.length", stage);
  }

  void run() {
    Deque<Node> open = new ArrayDeque<>(List.of(new Node(List.of())));
    while (!open.isEmpty()) {
      Node node = open.removeFirst();
      for (Letter letter : Letter.values()) {
        Walk walk = new Walk();
        node.path().forEach(walk::letter);
        walk.checked = true;
        walk.letter(letter);
        if (modes.add(walk.bench.controller.mode() * 31 + walk.place.ordinal())) {
          List<Letter> path = new ArrayList<>(node.path());
          path.add(letter);
          open.addLast(new Node(path));
          walk.goOn(letter);
        }
      }
    }
  }

  /** The transitions that a path shows. */
  Set<Transition> shownBy(List<Letter> path) {
    Exploration alone = new Exploration(this);
    Walk walk = alone.new Walk();
    walk.checked = true;
    path.forEach(walk::letter);
    return alone.transitions.keySet();
  }

  /** The steps of a path, as the controller saw them. */
  List<Recording.Step> record(List<Letter> path) {
    Walk walk = new Walk();
    walk.recording = new ArrayList<>();
    path.forEach(walk::letter);
    return walk.recording;
  }

  /** One path from power-on. */
  private final class Walk {
    final TestBench bench = new TestBench(settings);
    Letter place = Letter.OUT;
    boolean checked;
    @Nullable List<Recording.Step> recording;
    private boolean resetOwed;
    private boolean askOwed;
    private long eventsSeen;

    private final List<Letter> letters = new ArrayList<>();

    void letter(Letter letter) {
      letters.add(letter);
      boolean turned = bench.out.drive.turns();
      begin(letter);
      int stillTurning = 0;
      for (int ms = 0; ms < LETTER_MS; ms++) {
        boolean wrongWay = letter == Letter.WRONG_WAY;
        bench.in.speedMilliRpm = wrongWay ? -bench.in.speedMilliRpm : bench.in.speedMilliRpm;
        step();
        boolean over = letter == Letter.BUMP && ms == BUMP_MS;
        bench.in.torqueMicroNewtonMetres = over ? 0 : bench.in.torqueMicroNewtonMetres;
        bench.in.frequencyCount = letter == Letter.BAD_INPUT ? 9 : bench.in.frequencyCount;
        stillTurning = bench.out.drive.turns() ? ms + 1 : stillTurning;
      }
      Integer budget = SAFE_WITHIN_MS.get(letter);
      boolean fault = letter != Letter.LEAK || !easesInDoubt;
      if (checked && turned && fault && budget != null && stillTurning > budget) {
        throw new AssertionError(letter + ": turns for " + stillTurning + " ms, " + budget);
      }
      end();
    }

    /** The same letter for half a second more: the state must come to rest. */
    void goOn(Letter letter) {
      int before = bench.states.size();
      for (int i = 0; i < 500 / LETTER_MS; i++) {
        letter(letter);
      }
      worstChanges = Math.max(worstChanges, bench.states.size() - before);
    }

    private void begin(Letter letter) {
      switch (letter) {
        case OUT -> bench.inCanal = false;
        case FAR -> goTo(8_000);
        case MIDDLE -> goTo(2_500);
        case NEAR -> goTo(1_000);
        case STANDOFF -> goTo(490);
        case PAST -> goTo(-300);
        case LEAK -> bench.leakOhms = 1_000;
        case RAILED -> bench.in.railed = true;
        case SILENT -> bench.sampling = false;
        case STOP_LINE -> bench.in.stopLine = true;
        case LINK -> bench.in.linkAgeNs = 60 * TestBench.MS;
        case RELEASED -> bench.in.demand = false;
        case RESET -> bench.in.reset = true;
        case TORQUE, BUMP -> bench.in.torqueMicroNewtonMetres = 6_000;
        case BAD_INPUT -> bench.in.frequencyCount = 9;
        case TIME_JUMP -> bench.nowNs += 500 * TestBench.MS;
        case WRONG_WAY -> {}
      }
      place = letter.ordinal() <= Letter.PAST.ordinal() ? letter : place;
    }

    private void goTo(double microns) {
      bench.inCanal = true;
      bench.remainingMicrons = microns;
    }

    private void end() {
      bench.leakOhms = Double.POSITIVE_INFINITY;
      bench.in.railed = false;
      bench.sampling = true;
      bench.in.stopLine = false;
      bench.in.linkAgeNs = 0;
      bench.in.demand = true;
      bench.in.reset = false;
      bench.in.torqueMicroNewtonMetres = 0;
      bench.in.frequencyCount = Math.min(bench.in.frequencyCount, 2);
    }

    private void step() {
      boolean linkLost = bench.in.linkAgeNs > 50 * TestBench.MS;
      boolean reset = bench.in.reset;
      boolean asks = !bench.in.demand || !bench.inCanal;
      bench.step();
      steps++;
      if (recording != null) {
        ControllerInput copy = new ControllerInput();
        copy.copyFrom(bench.lastInput);
        recording.add(new Recording.Step(bench.nowNs, copy));
      }
      ghost(reset, asks);
      if (checked) {
        check(linkLost);
        gather();
      }
    }

    /** What must have happened since the last lock before the motor may turn. */
    private void ghost(boolean reset, boolean asks) {
      if (bench.out.state == State.LOCKED) {
        resetOwed = true;
        askOwed = true;
      } else if (resetOwed) {
        require(reset, "leaves the lock without a reset");
        resetOwed = false;
      } else if (asks) {
        askOwed = false;
      }
    }

    private void check(boolean linkLost) {
      boolean turns = bench.out.drive.turns();
      boolean known = bench.out.readingPresent && bench.out.trust == Trust.SURE;
      require(
          !(bench.out.drive == Drive.FORWARD && known && bench.out.remainingMicrons < 500),
          "drives forward at or past the standoff");
      require(!(turns && bench.lastInput.stopLine), "turns with the stop line open");
      require(!(turns && linkLost), "turns with a silent bench");
      require(!(turns && bench.out.cause == Cause.STALE), "turns with a stale signal");
      require(!(turns && (resetOwed || askOwed) && resetOwed), "turns without a reset");
      require(!(turns && askOwed), "turns after a reset without being asked anew");
      require(!(turns && !bench.in.demand), "turns without demand");
    }

    private void require(boolean holds, String otherwise) {
      if (!holds) {
        throw new AssertionError(otherwise + ": " + letters + " " + bench.states);
      }
    }

    private void gather() {
      Event event = new Event();
      long count = bench.controller.events().count();
      for (long i = Math.max(eventsSeen, bench.controller.events().oldest()); i < count; i++) {
        bench.controller.events().get(i, event);
        if (event.from != event.to) {
          transitions.putIfAbsent(
              new Transition(event.from, event.to, event.reason.name()), List.copyOf(letters));
        }
      }
      eventsSeen = count;
    }
  }
}
