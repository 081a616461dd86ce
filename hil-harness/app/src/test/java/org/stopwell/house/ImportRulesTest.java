package org.stopwell.house;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.Architectures.layeredArchitecture;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertEquals;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaMethodCall;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.util.Arrays;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Who may use what. The layers go one way, and hardware, time and chance each live in one package.
 */
class ImportRulesTest {
  private static final JavaClasses STOPWELL =
      new ClassFileImporter()
          .withImportOption(new ImportOption.DoNotIncludeTests())
          .withImportOption(place -> !place.contains("-tests.jar"))
          .importPackages("org.stopwell");

  private static final String CORE = "org.stopwell.core..";

  @Test
  void theLayersGoOneWay() {
    layeredArchitecture()
        .consideringOnlyDependenciesInLayers()
        .layer("core")
        .definedBy(CORE)
        .layer("rig")
        .definedBy("org.stopwell.rig..")
        .layer("harness")
        .definedBy("org.stopwell.harness..")
        .whereLayer("harness")
        .mayNotBeAccessedByAnyLayer()
        .whereLayer("rig")
        .mayOnlyBeAccessedByLayers("harness")
        .whereLayer("core")
        .mayOnlyBeAccessedByLayers("rig", "harness")
        .check(STOPWELL);
  }

  /** The way of the data: plan, trial, run file, evidence, report; the application on top. */
  @Test
  void theRoomsOfTheHarnessGoOneWay() {
    layeredArchitecture()
        .consideringOnlyDependenciesInLayers()
        .layer("tryout")
        .definedBy(rooms("tryout"))
        .layer("firmware")
        .definedBy(rooms("firmware"))
        .layer("stats")
        .definedBy(rooms("stats"))
        .layer("trial")
        .definedBy(
            rooms(
                "plan",
                "protocol",
                "trial",
                "fault",
                "length",
                "advice",
                "input",
                "trace",
                "external",
                "stops"))
        .layer("record")
        .definedBy(rooms("record", "evidence", "claim", "budget", "standing", "export", "sign"))
        .layer("campaign")
        .definedBy(rooms("campaign", "live", "replay", "detect"))
        .layer("explore")
        .definedBy(rooms("explore", "rare", "breaking", "tune"))
        .layer("casework")
        .definedBy(rooms("casework"))
        .layer("report")
        .definedBy(rooms("report"))
        .layer("assess")
        .definedBy(rooms("assess", "learn"))
        .layer("console")
        .definedBy(rooms("console"))
        .layer("app")
        .definedBy(rooms("cli"))
        .whereLayer("app")
        .mayNotBeAccessedByAnyLayer()
        .whereLayer("firmware")
        .mayOnlyBeAccessedByLayers("app")
        .whereLayer("tryout")
        .mayOnlyBeAccessedByLayers("console", "app")
        .whereLayer("console")
        .mayOnlyBeAccessedByLayers("app")
        .whereLayer("assess")
        .mayOnlyBeAccessedByLayers("report", "app")
        .whereLayer("report")
        .mayOnlyBeAccessedByLayers("console", "app")
        .whereLayer("explore")
        .mayOnlyBeAccessedByLayers("report", "app")
        .whereLayer("casework")
        .mayOnlyBeAccessedByLayers("report", "app")
        .whereLayer("campaign")
        .mayOnlyBeAccessedByLayers("console", "app")
        .whereLayer("record")
        .mayOnlyBeAccessedByLayers("campaign", "explore", "report", "console", "app")
        .whereLayer("trial")
        .mayOnlyBeAccessedByLayers(
            "record", "campaign", "explore", "casework", "report", "assess", "console", "app")
        .check(STOPWELL);
  }

  /** A black box stays black: the harness sees what a bench watches of a device. */
  @Test
  void theHarnessDoesNotLookIntoASimulatedDevice() {
    noClasses()
        .that()
        .resideInAPackage("org.stopwell.harness..")
        .should()
        .dependOnClassesThat()
        .resideInAPackage("org.stopwell.rig.device.twin..")
        .check(STOPWELL);
  }

  private static String[] rooms(String... packages) {
    return Arrays.stream(packages)
        .map(p -> "org.stopwell.harness." + p + "..")
        .toArray(String[]::new);
  }

  @Test
  void noTwoPackagesNeedEachOther() {
    slices().matching("org.stopwell.(**)").should().beFreeOfCycles().check(STOPWELL);
  }

  /** One word for one idea: a reader who knows a class by its name knows which. */
  @Test
  void noTwoClassesShareAName() {
    Map<String, Long> names =
        STOPWELL.stream()
            .filter(type -> type.isTopLevelClass() && !type.getSimpleName().endsWith("-info"))
            .collect(Collectors.groupingBy(JavaClass::getSimpleName, Collectors.counting()));
    names.values().removeIf(count -> count == 1);
    assertEquals(Map.of(), names);
  }

  @Test
  void theCoreUsesOnlyItselfAndPlainJava() {
    classes()
        .that()
        .resideInAPackage(CORE)
        .should()
        .onlyDependOnClassesThat(
            resideInAnyPackage(
                CORE,
                "java.lang",
                "java.lang.annotation",
                "java.lang.invoke",
                "java.lang.runtime",
                "java.math",
                "java.nio",
                "java.util",
                "java.util.function",
                "java.util.stream",
                "org.jspecify.annotations"))
        .because("the core does no I/O, starts no threads, reads no clock and reflects on nothing")
        .check(STOPWELL);
  }

  @Test
  void theCoreGivesTheSameBitsEverywhere() {
    noClasses()
        .that()
        .resideInAPackage(CORE)
        .should()
        .accessTargetWhere(
            mathOutside(
                "abs|ceil|floor|floorDiv|floorMod|max|min|round|signum|sqrt|toIntExact|.*Exact|copySign"))
        .because("other functions of Math may differ between machines or are missing in TeaVM")
        .check(STOPWELL);
  }

  @Test
  void elementaryFunctionsComeFromOneLibrary() {
    noClasses()
        .that()
        .resideInAnyPackage(CORE, "org.stopwell.rig..")
        .should()
        .accessTargetWhere(
            accessTo(
                "java\\.lang\\.(Strict)?Math",
                "a?(sin|cos|tan)h?|atan2|exp|expm1|log|log10|log1p|pow|cbrt|hypot|rint"))
        .because(
            "the functions of a browser differ, and from JDK 21 on some allocate: use Elementary")
        .check(STOPWELL);
  }

  @Test
  void theCoreStaysInTheSubsetThatCompilesToOtherTargets() {
    noClasses()
        .that()
        .resideInAPackage(CORE)
        .should()
        .dependOnClassesThat(
            nameOf(
                "java\\.util\\.(HexFormat|SplittableRandom|Random|Timer|UUID)|java\\.lang\\.(Thread|Runtime|Process)"))
        .orShould()
        .callMethodWhere(enumByName())
        .because("TeaVM does not compile it")
        .check(STOPWELL);
  }

  @Test
  void onlyOnePackageReadsAClockOrSleeps() {
    noClasses()
        .that()
        .resideOutsideOfPackage("org.stopwell.rig.time")
        .should()
        .accessTargetWhere(
            accessTo("java.lang.System", "nanoTime|currentTimeMillis")
                .or(accessTo("java.lang.Thread", "sleep|onSpinWait"))
                .or(accessTo("java.util.concurrent.TimeUnit", "sleep"))
                .or(accessTo("java.util.concurrent.locks.LockSupport", "parkNanos|parkUntil"))
                .or(accessTo("java\\.time\\.[A-Za-z]+", "now|system.*|tick.*"))
                .or(accessTo("java\\.util\\.Date", "<init>")))
        .because(
            "time comes in through org.stopwell.rig.time, so that a lockstep run and a real one differ nowhere else")
        .check(STOPWELL);
  }

  @Test
  void onlyOnePackageMakesChance() {
    noClasses()
        .that()
        .resideOutsideOfPackage("org.stopwell.rig.random")
        .should()
        .dependOnClassesThat(
            nameOf(
                "java\\.util\\.(Random|SplittableRandom)|java\\.util\\.random\\..*|java\\.security\\.SecureRandom"
                    + "|java\\.util\\.concurrent\\.ThreadLocalRandom"))
        .orShould()
        .accessTargetWhere(
            accessTo("java.lang.(Strict)?Math", "random")
                .or(accessTo("java.util.Collections", "shuffle"))
                .or(accessTo("java.util.UUID", "randomUUID")))
        .because("every random number has a seed and a name")
        .check(STOPWELL);
  }

  @ParameterizedTest(name = "{0} only in {1}")
  @CsvSource({
    "com.fazecast.., org.stopwell.rig.serial",
    "com.pi4j.., org.stopwell.rig.pi",
    "com.sun.jna.., org.stopwell.rig.board",
    "java.sql.., org.stopwell.harness.record",
    "org.apache.commons.math3.., org.stopwell.harness.explore",
    "org.snakeyaml.., org.stopwell.harness.plan",
    "com.networknt.., org.stopwell.harness.plan",
    "org.eclipse.jetty.., org.stopwell.harness.console",
    "picocli.., org.stopwell.harness.cli",
    "me.tongfei.., org.stopwell.harness.cli",
  })
  void onlyOnePackageKnowsALibrary(String library, String home) {
    noClasses()
        .that()
        .resideOutsideOfPackage(home)
        .should()
        .dependOnClassesThat(resideInAPackage(library))
        .check(STOPWELL);
  }

  @Test
  void onlyTheCommandLinePrints() {
    noClasses()
        .that()
        .resideOutsideOfPackage("org.stopwell.harness.cli..")
        .should()
        .accessTargetWhere(accessTo("java.lang.System", "out|err"))
        .because("results go to stdout and progress to stderr in one place")
        .check(STOPWELL);
  }

  @Test
  void onlyTheCommandLineLooksForExtensions() {
    noClasses()
        .that()
        .resideOutsideOfPackage("org.stopwell.harness.cli..")
        .should()
        .dependOnClassesThat(nameOf("java\\.util\\.ServiceLoader"))
        .because(
            "own policies and benches are handed down, so that a trial depends on nothing else")
        .check(STOPWELL);
  }

  @Test
  void theControllerNeverSeesTheTruth() {
    noClasses()
        .that()
        .resideInAPackage(CORE)
        .should()
        .dependOnClassesThat(nameOf(".*\\.Truth"))
        .check(STOPWELL);
  }

  private static DescribedPredicate<JavaClass> nameOf(String pattern) {
    return DescribedPredicate.describe(
        "are named " + pattern, type -> type.getName().matches(pattern));
  }

  private static DescribedPredicate<JavaAccess<?>> accessTo(String owner, String member) {
    return DescribedPredicate.describe(
        owner + "." + member,
        access ->
            access.getTargetOwner().getName().matches(owner) && access.getName().matches(member));
  }

  private static DescribedPredicate<JavaAccess<?>> mathOutside(String exactEverywhere) {
    return DescribedPredicate.describe(
        "Math beyond " + exactEverywhere,
        access ->
            access.getTargetOwner().getName().equals("java.lang.Math")
                && !access.getName().matches(exactEverywhere));
  }

  /**
   * Calls of {@code Enum.valueOf(String)}; every enum holds one in the method that the compiler
   * writes for it.
   */
  private static DescribedPredicate<JavaMethodCall> enumByName() {
    return DescribedPredicate.describe(
        "an enum constant by its name",
        call ->
            call.getTargetOwner().isAssignableTo(Enum.class)
                && call.getName().equals("valueOf")
                && !(call.getOriginOwner().isEnum()
                    && call.getOrigin().getName().equals("valueOf")));
  }
}
