package org.stopwell.harness.campaign;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import org.stopwell.harness.plan.ExtractedTooth;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.ToothZero;
import org.stopwell.harness.plan.ToothZeroNote;
import org.stopwell.rig.calibration.Attendant;

/**
 * Asks two observers for the true zero of every tooth whose plan does not state it, before the
 * first trial. Each tooth is kept once it is read, so that a campaign that goes on asks only for
 * the others.
 */
public final class ZeroDesk {
  /** Answer of a person who does not read the zero of a tooth. */
  public static final String NOT_READ = "-";

  private static final Pattern CODE = Pattern.compile(ToothZero.CODE);

  private final Attendant attendant;

  private ZeroDesk(Attendant attendant) {
    this.attendant = attendant;
  }

  /**
   * Keeps what was read.
   *
   * @param <E> why it cannot be kept
   */
  @FunctionalInterface
  public interface Keeper<E extends Exception> {
    /**
     * Keeps a tooth.
     *
     * @param note what was read of it
     * @throws E when it cannot be kept
     */
    void keep(ToothZeroNote note) throws E;
  }

  /**
   * Asks for every tooth that is not known.
   *
   * @param <E> why a note cannot be kept
   * @param plan a plan on extracted teeth
   * @param known names of the teeth that were read before
   * @param attendant who is at the microscope
   * @param keeper keeps each tooth at once
   * @return false when a question stayed without an answer
   * @throws E when a note cannot be kept
   */
  public static <E extends Exception> boolean ask(
      Plan plan, Set<String> known, Attendant attendant, Keeper<E> keeper) throws E {
    ZeroDesk desk = new ZeroDesk(attendant);
    for (ExtractedTooth tooth : plan.teeth()) {
      if (tooth.zero().isEmpty() && !known.contains(tooth.name())) {
        Optional<ToothZeroNote> note = desk.tooth(tooth.name());
        if (note.isEmpty()) {
          return false;
        }
        keeper.keep(note.get());
      }
    }
    return true;
  }

  /** One tooth, read again until its zero can be used; empty without an answer. */
  private Optional<ToothZeroNote> tooth(String name) {
    attendant.tell(
        "True zero of tooth "
            + name
            + ", before it is mounted: two observers read the place of the foramen three times"
            + " each, 5 µm a pixel, on one scale. Move the tooth away and back before each reading.");
    while (true) {
      Optional<String> first =
          code(
              "Tooth "
                  + name
                  + ": code of the first observer, or "
                  + NOT_READ
                  + " when its true zero is not read",
              NOT_READ);
      if (first.isEmpty()) {
        return Optional.empty();
      }
      if (first.get().equals(NOT_READ)) {
        return Optional.of(new ToothZeroNote(name, Optional.empty()));
      }
      Optional<ToothZero> zero = read(name, first.get());
      if (zero.isEmpty()) {
        return Optional.empty();
      }
      if (zero.get().isUsable()) {
        attendant.tell("Tooth " + name + ": " + zero.get().words() + ".");
        return Optional.of(new ToothZeroNote(name, zero));
      }
      attendant.tell("Tooth " + name + ": " + zero.get().refusal() + ". All readings count anew.");
    }
  }

  private Optional<ToothZero> read(String name, String first) {
    Map<String, List<Integer>> readings = new LinkedHashMap<>();
    Optional<List<Integer>> own = readings(name, first);
    if (own.isEmpty()) {
      return Optional.empty();
    }
    readings.put(first, own.get());
    Optional<String> second =
        code("Tooth " + name + ": code of the second observer, who has not seen the readings", "");
    while (second.filter(first::equals).isPresent()) {
      attendant.tell(first + " is the first observer; another person reads now.");
      second = code("Tooth " + name + ": code of the second observer", "");
    }
    own = second.flatMap(code -> readings(name, code));
    if (own.isEmpty()) {
      return Optional.empty();
    }
    readings.put(second.orElseThrow(), own.get());
    return whole(
            "Tooth "
                + name
                + ": standard deviation between observers, from their training; 10 when unknown",
            1,
            100)
        .map(spread -> new ToothZero(readings, spread));
  }

  private Optional<List<Integer>> readings(String name, String observer) {
    List<Integer> readings = new ArrayList<>();
    for (int i = 1; i <= ToothZero.READINGS; i++) {
      Optional<Integer> reading =
          whole(
              "Tooth "
                  + name
                  + ", observer "
                  + observer
                  + ", reading "
                  + i
                  + " of "
                  + ToothZero.READINGS
                  + ": place of the foramen",
              -ToothZero.FARTHEST_MICRONS,
              ToothZero.FARTHEST_MICRONS);
      if (reading.isEmpty()) {
        return Optional.empty();
      }
      readings.add(reading.get());
    }
    return Optional.of(readings);
  }

  private Optional<Integer> whole(String question, int low, int high) {
    while (true) {
      Optional<Long> thousandths = attendant.thousandths(question, "µm", low, high);
      if (thousandths.isEmpty() || thousandths.get() % 1_000 == 0) {
        return thousandths.map(t -> (int) (t / 1_000));
      }
      attendant.tell("A whole number of µm is needed.");
    }
  }

  private Optional<String> code(String question, String other) {
    while (true) {
      Optional<String> typed = attendant.words(question);
      if (typed.isEmpty() || typed.get().equals(other) || CODE.matcher(typed.get()).matches()) {
        return typed;
      }
      attendant.tell(
          "\"" + typed.get() + "\" is not a code: letters, digits and . _ + -, at most 40");
    }
  }
}
