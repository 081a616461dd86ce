package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaField;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** At a boundary a number carries its unit in its name, and it is an integer. */
class UnitNamesTest {
  private static final String UNIT =
      ".*(Ns|Microns|MicronsPerSecond|MilliRpm|MicroNewtonMetres|MilliOhms|MilliAmps|MilliVolts|Hz|[bB]itsPerSecond|PerMille|PartsPerMillion)";

  /** Numbers that count, order or identify have no unit. */
  private static final String PURE = "seed|index|.*[sS]equence|.*Count|.*Code";

  @Test
  void everyNumberInAFrameNamesItsUnit() {
    List<String> nameless = new ArrayList<>();
    for (JavaClass type :
        new ClassFileImporter()
            .withImportOption(new ImportOption.DoNotIncludeTests())
            .importPackages("org.stopwell.core.frame", "org.stopwell.rig.bench")) {
      for (JavaField field : type.getFields()) {
        if (isNumberAtTheBoundary(type, field) && !field.getName().matches(UNIT + "|" + PURE)) {
          nameless.add(field.getFullName());
        }
      }
    }
    assertEquals(List.of(), nameless);
  }

  private static boolean isNumberAtTheBoundary(JavaClass type, JavaField field) {
    Set<JavaModifier> modifiers = field.getModifiers();
    boolean open = type.isRecord() || modifiers.contains(JavaModifier.PUBLIC);
    boolean number =
        List.of("int", "long", "double", "float")
            .contains(field.getRawType().getBaseComponentType().getName());
    return open && number && !modifiers.contains(JavaModifier.STATIC);
  }
}
