package org.stopwell.harness.chip;

/** A chip that QEMU emulates. */
enum Chip {
  /** Cortex-M7 with double precision. */
  M7("mps2-an500"),
  /** Cortex-M4, where the library of the compiler computes doubles. */
  M4("mps2-an386");

  /** Its machine in QEMU. */
  final String machine;

  Chip(String machine) {
    this.machine = machine;
  }

  /** Its name in the makefile of the template. */
  String word() {
    return name().toLowerCase(java.util.Locale.ROOT);
  }
}
