package org.stopwell.harness.cli;

import java.io.IOException;
import java.net.URISyntaxException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.ServiceConfigurationError;
import java.util.ServiceLoader;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.policy.PolicyExtension;
import org.stopwell.core.settings.PolicyTables;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlannedCondition;
import org.stopwell.harness.record.ExtensionNote;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.trial.OwnPolicies;
import org.stopwell.rig.bench.BenchExtension;

/** Own policies and benches, from the jars and directories of {@code --extensions}. */
final class Extensions {
  /** No extension: what ships. */
  static final Extensions NONE =
      new Extensions(List.of(), Policies.BUILT_IN, OwnPolicies.NONE, Map.of(), Map.of());

  private static final String BENCH = "--bench";

  /** A jar or a directory of classes. */
  private record Place(Path path, String sha256) {
    String file() {
      return String.valueOf(path.getFileName());
    }
  }

  private final List<Path> paths;
  private final Policies policies;
  private final OwnPolicies own;
  private final Map<String, BenchExtension> benches;

  /** Where each policy and bench comes from, by the key and word that choose it. */
  private final Map<String, Place> from;

  private Extensions(
      List<Path> paths,
      Policies policies,
      OwnPolicies own,
      Map<String, BenchExtension> benches,
      Map<String, Place> from) {
    this.paths = paths;
    this.policies = policies;
    this.own = own;
    this.benches = benches;
    this.from = from;
  }

  /** Puts jars and directories on the path, and finds what they offer. */
  static Extensions load(List<Path> paths) throws UsageException {
    if (paths.isEmpty()) {
      return NONE;
    }
    List<Place> places = new ArrayList<>();
    List<URL> urls = new ArrayList<>();
    try {
      for (Path path : paths) {
        boolean jar = Files.isRegularFile(path) && String.valueOf(path).endsWith(".jar");
        if (!jar && !Files.isDirectory(path)) {
          throw new UsageException(
              "--extensions " + path + ": there is no such jar or directory of classes");
        }
        places.add(new Place(path.toAbsolutePath().normalize(), sha256(path)));
        urls.add(path.toUri().toURL());
      }
    } catch (IOException e) {
      throw new UsageException("--extensions: cannot be read: " + e.getMessage());
    }
    // It lives as long as the program: a policy may load a class at its first call.
    URLClassLoader loader =
        new URLClassLoader(urls.toArray(URL[]::new), Extensions.class.getClassLoader());
    Map<String, Place> from = new LinkedHashMap<>();
    Policies policies = Policies.BUILT_IN;
    List<OwnPolicies.Offer> offers = new ArrayList<>();
    for (PolicyExtension offered : offered(PolicyExtension.class, loader)) {
      Place place = placeOf(offered, places);
      Policies more;
      try {
        more = OwnPolicies.add(policies, offered, place.file());
      } catch (RuntimeException | LinkageError e) {
        throw new UsageException(
            "--extensions " + place.path() + ": its policies cannot be added: " + e.getMessage());
      }
      Set<String> added = new TreeSet<>(names(more.tables()));
      added.removeAll(names(policies.tables()));
      added.forEach(name -> from.put(name, place));
      policies = more;
      offers.add(new OwnPolicies.Offer(offered.getClass().getName(), place.file(), place.sha256()));
    }
    Map<String, BenchExtension> benches = new LinkedHashMap<>();
    for (BenchExtension offered : offered(BenchExtension.class, loader)) {
      Place place = placeOf(offered, places);
      String name = offered.name();
      if (BenchKind.isBuiltIn(name) || benches.put(name, offered) != null) {
        throw new UsageException(
            "--extensions " + place.path() + ": a bench named " + name + " is already there");
      }
      from.put(BENCH + " " + name, place);
    }
    if (from.isEmpty()) {
      throw new UsageException(
          "--extensions: no policy and no bench is named in META-INF/services of "
              + String.join(", ", paths.stream().map(Path::toString).toList()));
    }
    return new Extensions(List.copyOf(paths), policies, new OwnPolicies(offers), benches, from);
  }

  private static <T> List<T> offered(Class<T> kind, ClassLoader loader) throws UsageException {
    List<T> all = new ArrayList<>();
    try {
      ServiceLoader.load(kind, loader).forEach(all::add);
    } catch (ServiceConfigurationError e) {
      throw new UsageException("--extensions: " + e.getMessage());
    }
    return all;
  }

  private static Place placeOf(Object offered, List<Place> places) throws UsageException {
    try {
      Path code =
          Path.of(offered.getClass().getProtectionDomain().getCodeSource().getLocation().toURI());
      for (Place place : places) {
        if (place.path().equals(code.toAbsolutePath().normalize())) {
          return place;
        }
      }
    } catch (URISyntaxException e) {
      throw new UsageException("--extensions: " + e.getMessage());
    }
    throw new UsageException(
        "--extensions: " + offered.getClass().getName() + " comes from another place");
  }

  private static Set<String> names(PolicyTables tables) {
    Set<String> names = new TreeSet<>();
    tables.sensing().keySet().forEach(name -> names.add(PolicyTables.SENSING + " " + name));
    tables.stopping().forEach(name -> names.add("policies.stopping " + name));
    tables.torque().forEach(name -> names.add("policies.torque " + name));
    tables.trust().forEach(name -> names.add("policies.trust " + name));
    return names;
  }

  /** Of a jar its bytes; of a directory every file of it, by name, and its bytes. */
  private static String sha256(Path path) throws IOException {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      if (Files.isRegularFile(path)) {
        digest.update(Files.readAllBytes(path));
      } else {
        List<Path> files;
        try (Stream<Path> all = Files.walk(path)) {
          files = all.filter(Files::isRegularFile).sorted().toList();
        }
        for (Path file : files) {
          digest.update(path.relativize(file).toString().getBytes(StandardCharsets.UTF_8));
          digest.update((byte) 0);
          digest.update(Files.readAllBytes(file));
        }
      }
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  /** The policies that settings may name. */
  Policies policies() {
    return policies;
  }

  /** The own policies as they travel to another machine. */
  OwnPolicies own() {
    return own;
  }

  /** The jars and directories. */
  List<Path> paths() {
    return paths;
  }

  /** Own benches by their word. */
  Map<String, BenchExtension> benches() {
    return benches;
  }

  /** The words that give the same extensions again. */
  List<String> words() {
    List<String> words = new ArrayList<>();
    paths.forEach(path -> words.addAll(List.of("--extensions", path.toString())));
    return words;
  }

  /** Keeps in the run file which extensions a run uses. */
  void note(Plan plan, String bench, RunFile file) throws RunFileException {
    Set<String> used = new TreeSet<>();
    Stream.concat(
            Stream.of(plan.settings()),
            plan.plannedConditions().stream().map(PlannedCondition::settings))
        .forEach(
            settings ->
                settings.controller().chosen().forEach((key, name) -> used.add(key + " " + name)));
    used.add(BENCH + " " + bench);
    for (String name : used) {
      Place place = from.get(name);
      if (place != null) {
        file.note(ExtensionNote.KIND, new ExtensionNote(name, place.file(), place.sha256()).text());
      }
    }
  }

  /**
   * Refuses a run whose extensions are not there.
   *
   * @param same whether they must be the very same, and not another build
   */
  void require(RunFile run, Path directory, boolean same) throws UsageException, RunFileException {
    for (ExtensionNote note : ExtensionNote.of(run.notes())) {
      Place place = from.get(note.name());
      if (place == null || (same && !place.sha256().equals(note.sha256()))) {
        throw new UsageException(
            directory
                + " uses "
                + note.name()
                + " from "
                + note.file()
                + ", SHA-256 "
                + note.sha256()
                + (place == null
                    ? ", which is not loaded"
                    : "; " + place.path() + " has SHA-256 " + place.sha256())
                + "; give it with --extensions");
      }
    }
  }
}
