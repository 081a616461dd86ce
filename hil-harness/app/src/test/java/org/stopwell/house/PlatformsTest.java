package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertNotNull;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The native parts of the libraries are there for a PC and for a 64-bit Raspberry Pi. */
class PlatformsTest {
  @ParameterizedTest
  @ValueSource(
      strings = {
        "/Linux/x86_64/libjSerialComm.so",
        "/Linux/armv8_64/libjSerialComm.so",
        "/com/sun/jna/linux-x86-64/libjnidispatch.so",
        "/com/sun/jna/linux-aarch64/libjnidispatch.so",
        "/org/sqlite/native/Linux/x86_64/libsqlitejdbc.so",
        "/org/sqlite/native/Linux/aarch64/libsqlitejdbc.so",
      })
  void theNativeLibraryIsShipped(String library) {
    assertNotNull(PlatformsTest.class.getResource(library));
  }
}
