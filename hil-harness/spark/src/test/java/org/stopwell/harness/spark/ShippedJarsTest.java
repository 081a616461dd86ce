package org.stopwell.harness.spark;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Own policies travel as jars, and another build of them is noticed. */
class ShippedJarsTest {
  @TempDir Path dir;

  /** A directory of classes, of which only the names count here. */
  private Path classes(String build) throws IOException {
    Path place = Files.createDirectories(dir.resolve(build));
    Files.writeString(place.resolve("Mine.class"), build);
    return place;
  }

  private static ShippedJars own(Path classes) {
    return new ShippedJars(List.of(), List.of()).with(List.of(classes));
  }

  private static String difference(ShippedJars wanted, ShippedJars there) throws IOException {
    URL[] urls = {there.extensions().get(0).toUri().toURL()};
    try (URLClassLoader worker = new URLClassLoader(urls, null)) {
      return ShippedJars.difference(wanted.pinned(), worker);
    }
  }

  @Test
  void aDirectoryTravelsAsAJarAndIsComparedWhole() throws IOException {
    ShippedJars one = own(classes("one"));
    assertEquals(1, one.addresses(true).length, "the program's own jars are there already");
    assertEquals("", difference(one, one));
    String said = difference(one, own(classes("other")));
    assertTrue(said.contains("is another build than"), said);
    assertTrue(said.contains(one.pinned().get(0).jar()), said);
  }
}
