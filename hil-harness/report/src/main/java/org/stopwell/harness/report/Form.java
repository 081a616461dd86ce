package org.stopwell.harness.report;

import java.util.List;

/**
 * A question that a page of the console asks by its address; it changes nothing.
 *
 * @param name what the form is for
 * @param action where the answer goes
 * @param button the words on the button
 * @param fields what is asked
 */
record Form(String name, String action, String button, List<Field> fields) {
  /**
   * One field.
   *
   * @param name its name in the address
   * @param label what it asks
   * @param value what it holds
   * @param choices the values that it can have; none for free text
   * @param none the words for the empty choice
   */
  record Field(String name, String label, String value, List<String> choices, String none) {
    /** Free text. */
    static Field text(String name, String label, String value) {
      return new Field(name, label, value, List.of(), "");
    }
  }

  /** Whether an answer narrows what the page shows. */
  boolean filtered() {
    return button.equals(FILTER) && fields.stream().anyMatch(f -> !f.value().isEmpty());
  }

  /** The button of a form that narrows a list. */
  static final String FILTER = "Filter";
}
