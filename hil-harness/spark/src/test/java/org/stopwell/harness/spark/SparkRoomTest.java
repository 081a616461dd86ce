package org.stopwell.harness.spark;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideOutsideOfPackages;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.ServiceLoader;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.explore.EngineProvider;

/** The module beside the product: what it uses, and that the product needs nothing of it. */
class SparkRoomTest {
  @Test
  void theModuleUsesTheContractOfExplorationsAndNothingElseOfTheProgram() {
    classes()
        .that()
        .resideInAPackage("org.stopwell.harness.spark..")
        .should()
        .onlyDependOnClassesThat(
            resideInAnyPackage(
                    "org.stopwell.harness.spark..",
                    "org.stopwell.harness.explore",
                    "org.stopwell.rig.time")
                .or(resideOutsideOfPackages("org.stopwell..")))
        .check(
            new ClassFileImporter()
                .withImportOption(new ImportOption.DoNotIncludeTests())
                .importPackages("org.stopwell.harness.spark"));
  }

  @Test
  void theEngineIsFoundByItsName() {
    List<String> names =
        ServiceLoader.load(EngineProvider.class).stream()
            .map(offered -> offered.get().name())
            .toList();
    assertEquals(List.of("spark"), names);
  }

  @Test
  void theProductShipsNothingOfSpark() throws IOException {
    try (Stream<Path> shipped = Files.list(Path.of("../app/target/lib"))) {
      List<String> names = shipped.map(f -> f.getFileName().toString()).toList();
      assertTrue(names.size() > 20, "the walk found the libraries");
      assertTrue(names.stream().noneMatch(n -> n.contains("spark") || n.contains("scala")));
    }
  }

  @Test
  void theListOfSparksLibrariesIsThatOfTheBuild() throws IOException {
    assertEquals(
        Files.readString(Path.of("target/third-party.md")),
        Files.readString(Path.of("../../docs/third-party-spark.md")),
        "refresh it with: cp hil-harness/spark/target/third-party.md docs/third-party-spark.md");
  }
}
