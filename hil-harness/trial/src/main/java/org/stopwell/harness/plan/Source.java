package org.stopwell.harness.plan;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.harness.input.InputFile;

/**
 * A file's name and text. A run file keeps both, so that a run can be read again without the files
 * it began with. The text is parsed once, at the first use of its keys.
 */
public final class Source {
  private static final long MAX_BYTES = 1 << 20;

  /** Longest file of weights, bytes. */
  private static final long MAX_WEIGHTS_BYTES = DepthWeightsText.LONGEST;

  private final String name;
  private final String text;
  private Yaml.@Nullable Mapping top;
  private List<Mistake> mistakes = List.of();
  private final @Nullable Map<String, String> kept;

  /**
   * A file that was read.
   *
   * @param name the file as it was named
   * @param text all of it
   */
  public Source(String name, String text) {
    this(name, text, null);
  }

  /**
   * A text that was kept together with the files that it names.
   *
   * @param name the file as it was named
   * @param text all of it
   * @param kept texts of the files that it names, by name; no other file is read
   */
  public Source(String name, String text, @Nullable Map<String, String> kept) {
    this.name = name;
    this.text = text;
    this.kept = kept == null ? null : Map.copyOf(kept);
  }

  /**
   * Reads a file.
   *
   * @param file where
   * @return its name and text
   * @throws PlanException when it is missing, unreadable, larger than 1 MiB or not UTF-8
   */
  public static Source of(Path file) throws PlanException {
    return of(file, MAX_BYTES);
  }

  /** A text that was made as a tree. */
  static Source of(String name, Yaml.Mapping tree) {
    Source source = new Source(name, YamlText.of(tree));
    source.top = tree;
    return source;
  }

  /** A part of this text, or one that it is part of: what was kept with it stays with it. */
  Source part(String partName, String partText) {
    return new Source(partName, partText, kept);
  }

  /**
   * Reads a file of weights that this file names.
   *
   * @param named as this file names it, relative to this file
   * @return name and text
   * @throws PlanException when it cannot be read
   */
  Source weights(String named) throws PlanException {
    if (kept != null) {
      String found = kept.get(named);
      if (found == null) {
        throw new PlanException(List.of(new Mistake(named, 0, "", "is not kept with " + name)));
      }
      return new Source(named, found);
    }
    try {
      return of(Path.of(name).resolveSibling(named), MAX_WEIGHTS_BYTES);
    } catch (InvalidPathException e) {
      throw new PlanException(List.of(new Mistake(named, 0, "", "is not a file name")));
    }
  }

  /** A file that this file names, relative to it. */
  Path besides(String named) throws PlanException {
    try {
      return Path.of(name).resolveSibling(named);
    } catch (InvalidPathException e) {
      throw new PlanException(List.of(new Mistake(name, 0, "", named + " is not a file name")));
    }
  }

  private static Source of(Path file, long longest) throws PlanException {
    try {
      Optional<String> fault = InputFile.fault(file, longest);
      if (fault.isPresent()) {
        throw unusable(file, fault.get());
      }
      ByteBuffer bytes = ByteBuffer.wrap(Files.readAllBytes(file));
      String text = StandardCharsets.UTF_8.newDecoder().decode(bytes).toString();
      return new Source(file.toString(), text);
    } catch (NoSuchFileException e) {
      throw unusable(file, "no such file");
    } catch (CharacterCodingException e) {
      throw unusable(file, "is not UTF-8 text");
    } catch (IOException | UncheckedIOException e) {
      throw unusable(file, "cannot be read: " + InputFile.reason(e));
    }
  }

  /**
   * Whether this looks like a plan rather than settings.
   *
   * @return true when it has the key {@code plan}
   */
  public boolean isPlan() {
    return text.lines().anyMatch(line -> line.startsWith("plan:"));
  }

  /**
   * Whether this looks like a plan of stops that are measured elsewhere.
   *
   * @return true when it has the key {@code import}
   */
  public boolean isStopPlan() {
    return text.lines().anyMatch(line -> line.startsWith("import:"));
  }

  /**
   * Whether this looks like a station rather than settings.
   *
   * @return true when it has the key {@code station}
   */
  public boolean isStation() {
    return text.lines().anyMatch(line -> line.startsWith("station:"));
  }

  /**
   * Whether this looks like the calibrations of a bench: settings have a curve of that name, but no
   * records.
   *
   * @return true when it has the key {@code records}
   */
  public boolean isCalibrations() {
    return text.lines().anyMatch(line -> line.startsWith("records:"));
  }

  /**
   * Whether this looks like the proof of a bench.
   *
   * @return true when it has the key {@code proof}
   */
  public boolean isProof() {
    return text.lines().anyMatch(line -> line.startsWith("proof:"));
  }

  /**
   * The file as it was named.
   *
   * @return its name
   */
  public String name() {
    return name;
  }

  /**
   * The whole file.
   *
   * @return its text
   */
  public String text() {
    return text;
  }

  /** The top-level keys; none where the text is not YAML. What is wrong is added each time. */
  synchronized Yaml.Mapping top(Mistakes found) {
    Yaml.Mapping read = top;
    if (read == null) {
      Mistakes own = new Mistakes(name);
      read = YamlReader.read(this, own);
      top = read;
      mistakes = own.all();
    }
    found.addAll(mistakes);
    return read;
  }

  private static PlanException unusable(Path file, String why) {
    return new PlanException(List.of(new Mistake(file.toString(), 0, "", why)));
  }
}
