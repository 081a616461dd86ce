package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
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
  private static final Pattern COMMAND = Pattern.compile("\\./stopwell ([^`\n#]+)");
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
  void everyCommandInThePagesExistsAndItsFilesToo() throws IOException {
    Set<String> known = new TreeSet<>(new CommandLine(new Main()).getSubcommands().keySet());
    known.addAll(List.of("test", "bench"));
    List<String> wrong = new ArrayList<>();
    for (Path page : pages()) {
      for (String line : all(COMMAND, Files.readString(page))) {
        String[] words = line.strip().split("\\s+", -1);
        if (words[0].matches("[a-z]+") && !known.contains(words[0])) {
          wrong.add(Tree.root().relativize(page) + ": " + line);
        }
        for (String word : words) {
          if (word.matches("docs/[\\w/.-]+") && !Files.exists(Tree.root().resolve(word))) {
            wrong.add(Tree.root().relativize(page) + ": " + word);
          }
        }
      }
    }
    assertEquals(List.of(), wrong);
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
