package org.stopwell.house;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.stopwell.harness.report.Drawing;

/**
 * The modules and who uses whom, drawn from their module descriptors. An arrow that follows from
 * others is left out.
 */
final class ModulePicture {
  private static final Pattern REQUIRES =
      Pattern.compile("requires (?:transitive )?(org\\.stopwell\\.[\\w.]+);");
  private static final String PREFIX = "org.stopwell.";
  private static final int WIDTH = 250;
  private static final int STEP_X = 285;
  private static final int HEIGHT = 110;
  private static final int STEP_Y = HEIGHT + 30;
  private static final int MARGIN = 20;
  private static final int LINE = 17;

  /**
   * One module as a box.
   *
   * @param level 0 uses no other module; every other stands above all that it uses
   * @param column 0 is the left one
   */
  private record Box(String name, Set<String> uses, List<String> rooms, int level, int column) {}

  private final Map<String, Box> boxes = new LinkedHashMap<>();

  private ModulePicture() {}

  /** The picture as SVG. */
  static String of(Map<String, Path> modules) throws IOException {
    ModulePicture picture = new ModulePicture();
    picture.place(modules);
    return picture.draw();
  }

  private void place(Map<String, Path> modules) throws IOException {
    Map<String, Set<String>> uses = new LinkedHashMap<>();
    for (Map.Entry<String, Path> module : modules.entrySet()) {
      Path source = module.getValue().resolve("src/main/java/module-info.java");
      Set<String> names = new TreeSet<>();
      REQUIRES.matcher(Files.readString(source)).results().forEach(m -> names.add(name(m)));
      uses.put(module.getKey(), names);
    }
    Map<String, Set<String>> direct = new HashMap<>();
    uses.forEach((module, names) -> direct.put(module, withoutDetours(names, uses)));
    Map<Integer, Integer> taken = new HashMap<>();
    for (Map.Entry<String, Path> entry : modules.entrySet()) {
      String module = entry.getKey();
      int level = level(module, uses);
      boolean reachedFromAfar =
          direct.entrySet().stream()
              .anyMatch(e -> e.getValue().contains(module) && level(e.getKey(), uses) > level + 1);
      int column = reachedFromAfar ? 2 : taken.merge(level, 1, Integer::sum) - 1;
      Path source = entry.getValue().resolve("src/main/java");
      boxes.put(
          module, new Box(module, used(module, direct), rooms(module, source), level, column));
    }
  }

  private static String name(MatchResult match) {
    return match.group(1);
  }

  private static Set<String> used(String module, Map<String, Set<String>> uses) {
    return uses.getOrDefault(module, Set.of());
  }

  private static int level(String module, Map<String, Set<String>> uses) {
    return used(module, uses).stream().mapToInt(u -> level(u, uses) + 1).max().orElse(0);
  }

  private static Set<String> withoutDetours(Set<String> names, Map<String, Set<String>> uses) {
    Set<String> direct = new TreeSet<>(names);
    direct.removeIf(n -> names.stream().anyMatch(other -> reaches(other, n, uses)));
    return direct;
  }

  private static boolean reaches(String from, String to, Map<String, Set<String>> uses) {
    return used(from, uses).stream().anyMatch(u -> u.equals(to) || reaches(u, to, uses));
  }

  /** The packages of a module, in short: the last part of the name, each once. */
  private static List<String> rooms(String module, Path source) throws IOException {
    String own = module.substring(module.lastIndexOf('.') + 1);
    Set<String> rooms = new TreeSet<>();
    try (Stream<Path> files = Files.walk(source)) {
      files
          .filter(f -> f.getFileName().toString().endsWith(".java"))
          .map(f -> source.relativize(f))
          .filter(f -> f.getNameCount() > 4)
          .forEach(f -> rooms.add(f.getName(3).toString()));
    }
    rooms.remove(own);
    return List.copyOf(rooms);
  }

  private String draw() {
    int top = boxes.values().stream().mapToInt(Box::level).max().orElseThrow();
    int columns = boxes.values().stream().mapToInt(Box::column).max().orElseThrow() + 1;
    Drawing d =
        new Drawing(
            "modules",
            2 * MARGIN + (columns - 1) * STEP_X + WIDTH,
            2 * MARGIN + top * STEP_Y + HEIGHT,
            "The modules of Stopwell",
            "An arrow leads to what a module uses.");
    for (Box box : boxes.values()) {
      for (String used : box.uses) {
        arrow(d, box, Objects.requireNonNull(boxes.get(used)), top);
      }
    }
    boxes.values().stream()
        .sorted(Comparator.comparingInt(Box::level).reversed())
        .forEach(box -> box(d, box, top));
    return d.file();
  }

  /** Down; to the left in a curve; to the right around the corner where the way is free. */
  private void arrow(Drawing d, Box from, Box to, int top) {
    boolean right = to.column > from.column;
    boolean left = to.column < from.column;
    boolean barred =
        boxes.values().stream()
            .anyMatch(
                b -> b.level == from.level && b.column > from.column && b.column <= to.column);
    boolean curved = left || (right && barred);
    int x1 = x(from) + (right ? WIDTH : left ? 0 : WIDTH / 2);
    int y1 = y(from, top) + (right || left ? HEIGHT / 2 : HEIGHT);
    int x2 = x(to) + (left ? WIDTH : curved ? 0 : WIDTH / 2);
    int y2 = y(to, top) + (curved ? HEIGHT / 2 : -2);
    int bend = left ? -90 : 90;
    String way =
        curved
            ? "C%d %d %d %d %d %d".formatted(x1 + bend, y1, x2 - bend, y2, x2, y2)
            : "H%d V%d".formatted(x2, y2);
    d.path("arrow", "M%d %d%s".formatted(x1, y1, way));
    // The head points the way that the line arrives: to the left, to the right, or down.
    int back = left ? 9 : -9;
    d.path(
        "tip arrow",
        curved ? "M%d %dl%d -4v8z".formatted(x2, y2, back) : "M%d %dl-4 -9h8z".formatted(x2, y2));
  }

  private static void box(Drawing d, Box box, int top) {
    int x = x(box);
    int y = y(box, top);
    d.rect("box", x, y, WIDTH, HEIGHT);
    d.label("strong", "start", x + 12, y + 24, box.name.substring(PREFIX.length()));
    int line = y + 46;
    for (String words : lines(box.rooms)) {
      d.label("tick", "start", x + 12, line, words);
      line += LINE;
    }
  }

  /** Names in lines that fit into a box. */
  private static List<String> lines(List<String> names) {
    List<String> lines = new ArrayList<>();
    String line = "";
    for (String name : names) {
      String longer = line.isEmpty() ? name : line + ", " + name;
      if (longer.length() > 34) {
        lines.add(line + ",");
        longer = name;
      }
      line = longer;
    }
    if (!line.isEmpty()) {
      lines.add(line);
    }
    return lines;
  }

  private static int x(Box box) {
    return MARGIN + box.column * STEP_X;
  }

  private static int y(Box box, int top) {
    return MARGIN + (top - box.level) * STEP_Y;
  }
}
