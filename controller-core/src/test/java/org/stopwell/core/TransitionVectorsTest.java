package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.ControllerSettings;

/**
 * The golden vectors that ship: the whole state machine, one approach under each other policy, and
 * two with a mistake, which must be refused. {@code export --to vectors} writes them out. To make
 * them anew, when the controller must behave differently: {@code -DargLine=-Dstopwell.write=true}.
 */
class TransitionVectorsTest {
  private static final String LOCATOR = "locator.swv";
  private static final String REFUSED = "refuse/locator.swv";
  private static final String HASH_REFUSED = "refuse/hash.swv";
  private static final int STEPS = 1_000;
  private static final Path SHIPPED = Path.of("port-c", "vectors.zip");

  @Test
  void theShippedVectorsShowEveryTransitionAndEveryPolicy() throws Exception {
    Set<Exploration.Transition> wanted = new TreeSet<>();
    Set<Exploration.Transition> shown = new TreeSet<>();
    Map<String, byte[]> vectors = new LinkedHashMap<>();
    for (Exploration exploration : Exploration.all()) {
      wanted.addAll(exploration.transitions.keySet());
      // The longest path first: it shows what the shorter ones would.
      List<Map.Entry<Exploration.Transition, List<Exploration.Letter>>> longestFirst =
          new ArrayList<>(exploration.transitions.entrySet());
      longestFirst.sort(Comparator.comparingInt(e -> -e.getValue().size()));
      for (Map.Entry<Exploration.Transition, List<Exploration.Letter>> each : longestFirst) {
        if (shown.contains(each.getKey())) {
          continue;
        }
        shown.addAll(exploration.shownBy(each.getValue()));
        ControllerSettings settings =
            ControllerSettings.of(exploration.settings, TestBench.curve());
        vectors.put(
            String.format(Locale.ROOT, "transitions-%02d.swv", vectors.size() + 1),
            SignalVectors.vector(settings, exploration.record(each.getValue())));
      }
    }
    assertEquals(wanted, shown);
    byte[] locator = SignalVectors.locator(STEPS);
    vectors.put(LOCATOR, locator);
    vectors.put("resistance.swv", SignalVectors.resistance());
    vectors.put("approach.swv", SignalVectors.approach());
    vectors.put(REFUSED, SignalVectors.withOneMicrometreMore(locator, STEPS, STEPS / 2));
    vectors.put(HASH_REFUSED, SignalVectors.withAnotherHash(locator, STEPS, STEPS / 2));
    System.out.println(shown.size() + " transitions in " + (vectors.size() - 5) + " vectors");
    if (Boolean.getBoolean("stopwell.write")) {
      ship(vectors);
    }

    Map<String, byte[]> shipped = shipped();
    assertEquals(vectors.keySet(), shipped.keySet());
    for (Map.Entry<String, byte[]> vector : shipped.entrySet()) {
      assertArrayEquals(vectors.get(vector.getKey()), vector.getValue(), vector.getKey());
    }
  }

  private static void ship(Map<String, byte[]> vectors) throws Exception {
    try (OutputStream file = Files.newOutputStream(SHIPPED);
        ZipOutputStream zip = new ZipOutputStream(file)) {
      zip.setLevel(9);
      for (Map.Entry<String, byte[]> vector : vectors.entrySet()) {
        ZipEntry entry = new ZipEntry(vector.getKey());
        entry.setTime(0); // the same bytes on any day
        zip.putNextEntry(entry);
        zip.write(vector.getValue());
      }
    }
  }

  private static Map<String, byte[]> shipped() throws Exception {
    Map<String, byte[]> vectors = new LinkedHashMap<>();
    try (ZipInputStream zip = new ZipInputStream(Files.newInputStream(SHIPPED))) {
      ZipEntry entry;
      while ((entry = zip.getNextEntry()) != null) {
        vectors.put(entry.getName(), zip.readAllBytes());
      }
    }
    return vectors;
  }
}
