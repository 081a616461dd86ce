package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** The source tree as a whole. */
class TreeTest {
  /** Split so that this file does not hold them itself. */
  private static final List<String> ONE_MACHINE_ONLY =
      List.of("/wo" + "rk/", "/ro" + "ot/", "/ho" + "me/");

  /** An archive is known by the first word of its host; a package goes by its name alone. */
  private static final Pattern ARCHIVE =
      Pattern.compile("//(deb|repo\\d*|packages?|archive|mirrors?|registry|search)\\.[\\w.-]+");

  @Test
  void noFileNamesAPathOfOneMachineOrTheSiteOfAnArchive() throws IOException {
    List<Path> files = Tree.files();
    assertTrue(files.size() > 50, "the walk found the tree");
    List<String> found = new ArrayList<>();
    for (Path file : files) {
      String text = Files.readString(file, StandardCharsets.ISO_8859_1);
      for (String word : ONE_MACHINE_ONLY) {
        if (text.contains(word)) {
          found.add(Tree.root().relativize(file) + ": " + word);
        }
      }
      for (MatchResult site : ARCHIVE.matcher(text).results().toList()) {
        found.add(Tree.root().relativize(file) + ": " + site.group());
      }
    }
    assertEquals(List.of(), found);
  }

  /** To draw it anew: {@code -Dtest=TreeTest -Dstopwell.write=true}. */
  @Test
  void thePictureOfTheModulesIsThatOfTheirDescriptors() throws IOException {
    Path file = Tree.root().resolve("docs/pictures/modules.svg");
    String picture = ModulePicture.of(Tree.modules());
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(file, picture);
    }
    assertEquals(picture, Files.readString(file));
  }

  @Test
  void theListOfShippedLibrariesIsThatOfTheBuild() throws IOException {
    assertEquals(
        Files.readString(Tree.root().resolve("hil-harness/app/target/third-party.md")),
        Files.readString(Tree.root().resolve("docs/third-party.md")),
        "refresh it with: cp hil-harness/app/target/third-party.md docs/third-party.md");
  }
}
