package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.cli.Main;
import picocli.CommandLine;

/** The pages for readers. */
class DocsTest {
  private static final Pattern LINK = Pattern.compile("\\]\\(([^)\\s]+)\\)");
  private static final Pattern COMMAND = Pattern.compile("(?:\\./|`)stopwell ([^`\n#]+)");
  private static final Pattern WORD = Pattern.compile("((?:\"[^\"]*\"|\\S)+)");
  private static final Pattern HEADING = Pattern.compile("(?m)^#+ (.+)$");

  @Test
  void everyLinkLeadsSomewhere() throws IOException {
    List<String> broken = new ArrayList<>();
    List<Path> pages = pages();
    assertTrue(pages.size() >= 6, "the walk found the pages");
    for (Path page : pages) {
      for (String link : all(LINK, Files.readString(page))) {
        if (!link.matches("(https?|mailto):.*") && !leadsSomewhere(page, link)) {
          broken.add(Tree.root().relativize(page) + ": " + link);
        }
      }
    }
    assertEquals(List.of(), broken);
  }

  @Test
  void everyPageIsInTheIndex() throws IOException {
    Path docs = Tree.root().resolve("docs");
    String index = Files.readString(docs.resolve("README.md"));
    Set<String> missing = new TreeSet<>();
    for (Path page : pages()) {
      if (docs.equals(page.getParent())
          && !page.endsWith("README.md")
          && !index.contains("(" + page.getFileName())) {
        missing.add(page.getFileName().toString());
      }
    }
    assertEquals(Set.of(), missing, "docs/README.md does not name them");
  }

  @Test
  void everyFileThatACommandInThePagesNamesIsThere() throws IOException {
    List<String> wrong = new ArrayList<>();
    for (Path page : pages()) {
      for (String line : all(COMMAND, Files.readString(page))) {
        for (String word : line.strip().split("\\s+", -1)) {
          if (word.matches("docs/[\\w/.-]+") && !Files.exists(Tree.root().resolve(word))) {
            wrong.add(Tree.root().relativize(page) + ": " + word);
          }
        }
      }
    }
    assertEquals(List.of(), wrong);
  }

  /** A page may name a command without all that it needs; what it does say must be right. */
  @Test
  void everyCommandInThePagesIsUnderstood() throws IOException {
    List<String> wrong = new ArrayList<>();
    int tried = 0;
    for (Path page : pages()) {
      for (String line : all(COMMAND, Files.readString(page))) {
        if (line.matches("[a-z].*") && !line.matches("(test|bench|extension|spark)\\b.*")) {
          tried++;
          mistake(line)
              .filter(m -> !m.startsWith("Missing required"))
              .ifPresent(m -> wrong.add(Tree.root().relativize(page) + ": " + line + ": " + m));
        }
      }
    }
    assertEquals(List.of(), wrong);
    assertTrue(tried > 40, tried + " commands");
  }

  @Test
  void everyExampleOfTheHelpIsUnderstood() {
    List<String> wrong = new ArrayList<>();
    int tried = 0;
    for (CommandLine command : withSubcommands(new CommandLine(new Main()))) {
      for (String line : command.getCommandSpec().usageMessage().footer()) {
        if (line.startsWith("  stopwell ")) {
          tried++;
          String example = line.strip().replaceFirst("stopwell ", "");
          mistake(example).ifPresent(m -> wrong.add(example + ": " + m));
        }
      }
    }
    assertEquals(List.of(), wrong);
    assertTrue(tried > 25, tried + " examples");
  }

  private static List<CommandLine> withSubcommands(CommandLine command) {
    List<CommandLine> all = new ArrayList<>(List.of(command));
    command.getSubcommands().values().forEach(c -> all.addAll(withSubcommands(c)));
    return all;
  }

  /** What is wrong with a command line, each alternative tried; comments and > file left out. */
  private static Optional<String> mistake(String line) {
    String bare = line.replaceFirst("(  +[^-\\s].*|\\s[#>].*)$", "").strip();
    List<String> words = all(WORD, bare).stream().filter(w -> !w.equals("…")).toList();
    int most = words.stream().mapToInt(w -> w.split("\\|", -1).length).max().orElse(1);
    for (int i = 0; i < most; i++) {
      int turn = i;
      String[] one =
          words.stream()
              .map(w -> w.split("\\|", -1))
              .map(w -> w[turn % w.length].replace("\"", "").replaceFirst("^N$", "1"))
              .toArray(String[]::new);
      try {
        new CommandLine(new Main()).setCaseInsensitiveEnumValuesAllowed(true).parseArgs(one);
      } catch (CommandLine.ParameterException e) {
        return Optional.of(String.valueOf(e.getMessage()));
      }
    }
    return Optional.empty();
  }

  @Test
  void everyPageForUsersSaysWhatTheSystemIsNotFor() throws IOException {
    for (String page : List.of("README.md", "docs/safety.md")) {
      String text = Files.readString(Tree.root().resolve(page)).replaceAll("\\s+>?\\s*", " ");
      assertTrue(text.contains("not a medical device"), page);
      assertTrue(text.contains("software stop is not a safety function"), page);
    }
  }

  private static boolean leadsSomewhere(Path page, String link) throws IOException {
    int hash = link.indexOf('#');
    String file = hash < 0 ? link : link.substring(0, hash);
    Path target = file.isEmpty() ? page : page.resolveSibling(file).normalize();
    if (!Files.exists(target)) {
      return false;
    }
    return hash < 0 || anchors(Files.readString(target)).contains(link.substring(hash + 1));
  }

  /** The anchors that a page of Markdown gets from its headings, as code hosts make them. */
  private static Set<String> anchors(String markdown) {
    return all(HEADING, markdown).stream()
        .map(
            heading ->
                heading
                    .toLowerCase(Locale.ROOT)
                    .replaceAll("[^\\p{L}\\p{N} _-]", "")
                    .strip()
                    .replace(' ', '-'))
        .collect(Collectors.toSet());
  }

  private static List<String> all(Pattern pattern, String text) {
    return pattern.matcher(text).results().map((MatchResult match) -> match.group(1)).toList();
  }

  private static List<Path> pages() throws IOException {
    return Tree.files().stream().filter(file -> file.toString().endsWith(".md")).toList();
  }
}
