package org.stopwell.core;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.trace.Event;

/**
 * Visits every mode that a controller can reach over a small alphabet of events, breadth first, and
 * checks at every step of every path that nothing forbidden happens. Then each pair of events
 * occurs in sequence in every state. A random walk over all events, with letters of any length,
 * then shows whether a change of state was missed.
 *
 * <p>One letter lasts 60 ms; all budgets of the settings are shorter, so that each letter has its
 * full effect. A mode is visited once; from each mode every letter is tried.
 */
final class Exploration {
  static final int LETTER_MS = 60;

  /** A bump touches the torque limit just long enough, ms. */
  private static final int BUMP_MS = 11;

  /** A dip out of the fluid loses the place, but not the trust; it ends past the foramen, ms. */
  private static final int DIP_MS = 6;

  /** So far out that no canal is that long: the tip is out of the fluid, µm. */
  private static final int DRY_MICRONS = 80_000;

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
    TIME_JUMP,
    DRY,
    DIP,
    DEEP,
    STANDS,
    TOO_FAST,
    UNASKED,
    LOW_SUPPLY,
    HOT
  }

  /** What the walk through all modes is made of; the rest would multiply it by the guards. */
  private static final Set<Letter> ALPHABET = EnumSet.range(Letter.OUT, Letter.TIME_JUMP);

  private static final Set<Letter> PLACES = EnumSet.range(Letter.OUT, Letter.PAST);

  /** Ways into every state. */
  private static final List<List<Letter>> SCENES =
      List.of(
          List.of(Letter.OUT),
          List.of(Letter.OUT, Letter.MIDDLE),
          List.of(Letter.OUT, Letter.MIDDLE, Letter.NEAR),
          List.of(Letter.OUT, Letter.MIDDLE, Letter.NEAR, Letter.STANDOFF),
          List.of(Letter.OUT, Letter.MIDDLE, Letter.NEAR, Letter.PAST),
          List.of(Letter.OUT, Letter.MIDDLE, Letter.BUMP),
          List.of(Letter.OUT, Letter.MIDDLE, Letter.NEAR, Letter.BUMP),
          List.of(Letter.OUT, Letter.MIDDLE, Letter.LEAK),
          List.of(Letter.OUT, Letter.MIDDLE, Letter.STOP_LINE));

  /** Ways on which a file is nearly spent in every state. */
  private static final List<List<Letter>> SPENDING_SCENES =
      List.of(
          List.of(Letter.OUT, Letter.MIDDLE, Letter.MIDDLE, Letter.MIDDLE),
          List.of(Letter.OUT, Letter.MIDDLE, Letter.NEAR, Letter.NEAR, Letter.NEAR),
          List.of(Letter.OUT, Letter.MIDDLE, Letter.MIDDLE, Letter.BUMP),
          List.of(Letter.OUT, Letter.MIDDLE, Letter.NEAR, Letter.NEAR, Letter.BUMP));

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

  /** All stages, explored once for all tests, each by itself on the processors that are free. */
  static synchronized List<Exploration> all() {
    if (ALL.isEmpty()) {
      ALL.addAll(
          Stream.concat(
                  STAGES.stream().map(Exploration::walked),
                  STAGES_STRUCK.stream().map(Exploration::struck))
              .parallel()
              .map(Supplier::get)
              .toList());
    }
    return ALL;
  }

  private static Supplier<Exploration> walked(Map<String, Object> stage) {
    return () -> {
      Exploration exploration = new Exploration(stage);
      exploration.run();
      System.out.printf(
          "%s: %d modes, %d steps, at most %d changes in half a second of sameness%n",
          new TreeMap<>(stage),
          exploration.modes.size(),
          exploration.steps,
          exploration.worstChanges);
      return exploration;
    };
  }

  private static Supplier<Exploration> struck(Map<String, Object> stage) {
    return () -> {
      Exploration exploration = new Exploration(slow(stage));
      exploration.strike();
      return exploration;
    };
  }

  private static final List<Map<String, Object>> STAGES =
      List.of(
          Map.of("apical", "hold", "on_torque", "hold"),
          Map.of("apical", "back-out", "on_torque", "back-out"),
          Map.of("apical", "hold", "on_torque", "rock", "motion", "reciprocate"),
          Map.of("apical", "back-out", "on_torque", "rock", "on_doubtful", "ease"));

  /** Of the section of the file, not of the stage. */
  private static final String TURNS_LIMIT = "turns_limit";

  /** Stages that are struck only: among them those that go on without a reading. */
  private static final List<Map<String, Object>> STAGES_STRUCK =
      List.of(
          Map.of("apical", "back-out", "on_torque", "back-out", "retries", 0),
          Map.of("apical", "back-out", "on_torque", "back-out"),
          Map.of("apical", "back-out", "on_torque", "rock"),
          Map.of("apical", "hold", "on_torque", "rock", "motion", "reciprocate"),
          Map.of("apical", "back-out", "on_torque", "back-out", "on_doubtful", "ease"),
          Map.of("apical", "hold", "on_torque", "rock", "on_doubtful", "ease"),
          Map.of("apical", "hold", "on_torque", "hold", "ease_mm", 0),
          Map.of("apical", "back-out", "on_torque", "hold", "ease_mm", 0),
          Map.of("apical", "back-out", "on_torque", "back-out", TURNS_LIMIT, 1),
          Map.of("apical", "back-out", "on_torque", "rock", "retries", 3, TURNS_LIMIT, 1),
          Map.of(
              "apical",
              "none",
              "on_torque",
              "back-out",
              "on_doubtful",
              "none",
              "on_none",
              "none",
              "depth_limit_mm",
              15),
          Map.of(
              "apical",
              "back-out",
              "on_torque",
              "rock",
              "on_doubtful",
              "ease",
              "on_none",
              "none",
              "depth_limit_mm",
              15));

  /** Reactions last for several letters, so that something can happen under them. */
  private static Map<String, Object> slow(Map<String, Object> stage) {
    Map<String, Object> slow = new LinkedHashMap<>(stage);
    slow.put("back_out_ms", 200);
    slow.put("back_out_deg", 7_000);
    slow.put("rock_ms", 200);
    return slow;
  }

  final Map<String, Map<String, Object>> settings;
  private final ControllerSettings shared;
  private boolean easesInDoubt;
  private boolean stopsAtStandoff;
  private boolean axis;
  private boolean spends;
  final Set<Long> modes = new HashSet<>();
  final Map<Transition, List<Letter>> transitions = new TreeMap<>();
  long steps;
  int worstChanges;

  private Exploration(Exploration other) {
    settings = other.settings;
    shared = other.shared;
    easesInDoubt = other.easesInDoubt;
    stopsAtStandoff = other.stopsAtStandoff;
    axis = other.axis;
    spends = other.spends;
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
    guard.putAll(
        Map.of(
            "overspeed_ms", 20,
            "supply_ms", 10,
            "supply_min_v", 5,
            "motor_continuous_ma", 500,
            "motor_heat_ms", 100));
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
    spends = length.containsKey(TURNS_LIMIT);
    if (spends) {
      settings.put("file", Map.of(TURNS_LIMIT, length.get(TURNS_LIMIT)));
      stage.remove(TURNS_LIMIT);
    }
    easesInDoubt = length.containsKey("on_doubtful");
    stopsAtStandoff = !"none".equals(length.get("apical"));
    axis = length.containsKey("depth_limit_mm");
    settings.put("stages.length", stage);
    shared = TestBench.checked(settings, TestBench.curve());
  }

  void run() {
    Deque<Node> open = new ArrayDeque<>(List.of(new Node(List.of())));
    while (!open.isEmpty()) {
      Node node = open.removeFirst();
      for (Letter letter : ALPHABET) {
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

  /** Each pair of events in sequence, in every state. */
  private void strike() {
    for (List<Letter> scene : spends ? SPENDING_SCENES : SCENES) {
      for (Letter first : Letter.values()) {
        for (Letter next : Letter.values()) {
          Walk walk = new Walk();
          walk.checked = true;
          scene.forEach(walk::letter);
          walk.letter(first);
          walk.letter(next);
        }
      }
    }
  }

  /** The transitions of a walk in which anything happens for any time, two things at once too. */
  Set<Transition> atRandom(Random random, int letters) {
    Exploration alone = new Exploration(this);
    Walk walk = alone.new Walk();
    walk.checked = true;
    List<Letter> places = List.copyOf(PLACES);
    for (int i = 0; i < letters; i++) {
      List<Letter> now = new ArrayList<>();
      if (random.nextInt(3) > 0) {
        now.add(places.get(random.nextInt(places.size())));
      }
      for (int more = random.nextInt(3); more > 0; more--) {
        now.add(Letter.values()[random.nextInt(Letter.values().length)]);
      }
      walk.play(now, 1 + random.nextInt(2 * LETTER_MS));
      if (walk.letters.size() > 50) {
        walk = alone.new Walk();
        walk.checked = true;
      }
    }
    return alone.transitions.keySet();
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
    final TestBench bench = new TestBench(shared);
    Letter place = Letter.OUT;
    boolean checked;
    @Nullable List<Recording.Step> recording;
    private boolean resetOwed;
    private boolean askOwed;
    private int deeperMicrons;
    private long eventsSeen;

    private final List<Letter> letters = new ArrayList<>();

    void letter(Letter letter) {
      boolean turned = bench.out.drive.turns();
      int stillTurning = play(List.of(letter), LETTER_MS);
      Integer budget = SAFE_WITHIN_MS.get(letter);
      boolean fault = !easesInDoubt || (letter != Letter.LEAK && letter != Letter.OUT);
      if (checked && turned && fault && budget != null && stillTurning > budget) {
        throw new AssertionError(letter + ": turns for " + stillTurning + " ms, " + budget);
      }
    }

    /** Lets these happen at once; returns how long the motor was still commanded to turn, ms. */
    int play(List<Letter> all, int lengthMs) {
      letters.addAll(all);
      all.forEach(this::begin);
      int stillTurning = 0;
      for (int ms = 0; ms < lengthMs; ms++) {
        all.forEach(this::turn);
        step();
        if (ms == DIP_MS && all.contains(Letter.DIP)) {
          goTo(-300);
        }
        boolean over = all.contains(Letter.BUMP) && ms == BUMP_MS;
        bench.in.torqueMicroNewtonMetres = over ? 0 : bench.in.torqueMicroNewtonMetres;
        bench.in.frequencyCount = all.contains(Letter.BAD_INPUT) ? 9 : bench.in.frequencyCount;
        stillTurning = bench.out.drive.turns() ? ms + 1 : stillTurning;
      }
      end();
      return stillTurning;
    }

    /** What the encoder shows in place of an obedient motor. */
    private void turn(Letter letter) {
      switch (letter) {
        case WRONG_WAY -> bench.in.speedMilliRpm = -bench.in.speedMilliRpm;
        case STANDS -> bench.in.speedMilliRpm = 0;
        case TOO_FAST -> bench.in.speedMilliRpm *= 4;
        case UNASKED -> bench.in.speedMilliRpm += bench.out.drive.turns() ? 0 : 100_000;
        default -> {}
      }
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
        case DRY, DIP -> goTo(DRY_MICRONS);
        case DEEP -> deeperMicrons = 5_000;
        case LOW_SUPPLY -> bench.in.supplyMilliVolts = 4_000;
        case HOT -> bench.in.currentMilliAmps = 2_000;
        case WRONG_WAY, STANDS, TOO_FAST, UNASKED -> {}
      }
      place = PLACES.contains(letter) ? letter : place;
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
      bench.in.supplyMilliVolts = 6_000;
      bench.in.currentMilliAmps = 0;
      deeperMicrons = 0;
    }

    private void step() {
      boolean linkLost = bench.in.linkAgeNs > 50 * TestBench.MS;
      boolean reset = bench.in.reset;
      boolean asks = !bench.in.demand || !bench.inCanal || bench.remainingMicrons > 50_000;
      bench.in.insertionPresent = axis;
      bench.in.insertionMicrons = (int) (14_000 - bench.remainingMicrons) + deeperMicrons;
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
          !(stopsAtStandoff
              && bench.out.drive == Drive.FORWARD
              && known
              && bench.out.remainingMicrons < 500),
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
