package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;

/** Reads the readings of the true zero of one tooth. */
final class ToothZeroReader {
  static final String KEY = "zero_readings_um";

  private static final String PATH = TeethReader.KEY + "." + KEY;
  private static final Pattern CODE = Pattern.compile(DeviceReader.CODE);
  private static final Pattern WHOLE = Pattern.compile("-?[0-9]{1,6}");

  private final Mistakes mistakes;

  ToothZeroReader(Mistakes mistakes) {
    this.mistakes = mistakes;
  }

  /** The zero; empty where it is missing or wrong. */
  Optional<ToothZero> read(Yaml.Mapping tooth, int observerMicrons) {
    Yaml.Entry entry = tooth.entries().get(KEY);
    if (entry == null) {
      return Optional.empty();
    }
    if (!(entry.value() instanceof Yaml.Mapping group)) {
      mistakes.add(
          entry.line(),
          PATH,
          entry.value().word()
              + " is not a group; write {o1: [100, 105, 95], o2: [105, 110, 105]}");
      return Optional.empty();
    }
    int before = mistakes.all().size();
    if (group.entries().size() != ToothZero.OBSERVERS) {
      mistakes.add(
          entry.line(),
          PATH,
          group.entries().size() + " observers, must be " + ToothZero.OBSERVERS);
    }
    Map<String, List<Integer>> readings = new LinkedHashMap<>();
    group.entries().forEach((observer, own) -> readings.put(observer, readings(observer, own)));
    if (mistakes.all().size() > before) {
      return Optional.empty();
    }
    ToothZero zero = new ToothZero(readings, observerMicrons);
    if (!zero.isUsable()) {
      mistakes.add(entry.line(), PATH, zero.refusal() + "; read it again");
    }
    return Optional.of(zero);
  }

  private List<Integer> readings(String observer, Yaml.Entry entry) {
    String path = PATH + "." + observer;
    if (!CODE.matcher(observer).matches()) {
      mistakes.add(
          entry.line(),
          path,
          "\"" + observer + "\" is not a code: letters, digits and . _ + -, at most 40");
    }
    List<Yaml> items = entry.value() instanceof Yaml.Items list ? list.items() : List.of();
    if (items.size() != ToothZero.READINGS) {
      mistakes.add(entry.line(), path, items.size() + " readings, must be " + ToothZero.READINGS);
    }
    List<Integer> readings = new ArrayList<>();
    for (Yaml item : items) {
      boolean whole =
          item instanceof Yaml.Scalar s
              && s.sort() == Yaml.Sort.NUMBER
              && WHOLE.matcher(s.text()).matches();
      int microns = whole ? Integer.parseInt(item.word()) : Integer.MAX_VALUE;
      if (!(Math.abs((long) microns) <= ToothZero.FARTHEST_MICRONS)) {
        mistakes.add(
            item.line(),
            path,
            item.word()
                + " is not a whole number from "
                + -ToothZero.FARTHEST_MICRONS
                + " to "
                + ToothZero.FARTHEST_MICRONS
                + " µm");
      }
      readings.add(microns);
    }
    return readings;
  }
}
