package org.stopwell.harness.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.harness.sign.DetachedSignature;
import org.stopwell.harness.sign.DetachedSignature.Subject;
import org.stopwell.harness.sign.VerifyingKey;

/** Which signatures stand and which do not. Without a key none is checked. */
final class SignatureLines {
  private final Optional<VerifyingKey> key;
  private final List<String> faults = new ArrayList<>();
  private final List<String> good = new ArrayList<>();
  private final Map<String, Object> values = new LinkedHashMap<>();

  /** Gives the hash of what is signed, as it is now; empty when it is missing or damaged. */
  interface Hash {
    String now() throws IOException;
  }

  SignatureLines(Optional<VerifyingKey> key) {
    this.key = key;
  }

  /** Checks the signature beside a file. */
  void add(Path signed, Subject subject, Hash hash) throws IOException {
    Path file = DetachedSignature.fileOf(signed);
    String name = String.valueOf(file.getFileName());
    if (key.isEmpty()) {
      if (Files.exists(file)) {
        good.add(name + " was not checked; give the public key of the signer with --key");
        values.put(name, "NOT_CHECKED");
      }
      return;
    }
    String now = hash.now();
    Optional<String> fault =
        now.isEmpty() && Files.exists(file)
            ? Optional.of(
                name + " was not checked: " + signed.getFileName() + " is missing or damaged")
            : DetachedSignature.fault(file, subject, now, key.get());
    if (fault.isPresent()) {
      faults.add(fault.get());
      values.put(name, "FAIL");
    } else {
      good.add(
          "PASS: " + name + " stands: the " + subject.text() + " is signed by " + key.get().id());
      values.put(name, "PASS");
    }
  }

  /** What does not stand, one sentence each. */
  List<String> faults() {
    return faults;
  }

  /** What stands, and what was not checked, one line each. */
  List<String> good() {
    return good;
  }

  /** The outcome of each signature by the name of its file. */
  Map<String, Object> values() {
    return values;
  }
}
