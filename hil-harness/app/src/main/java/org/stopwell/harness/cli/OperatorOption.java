package org.stopwell.harness.cli;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.casework.CaseReader;
import org.stopwell.harness.casework.ToothCase;
import picocli.CommandLine.Option;

/** Who does a step of a case. */
final class OperatorOption {
  @Option(
      names = "--operator",
      paramLabel = "CODE",
      description = "Code of the operator, never a name. Default: as in case.yaml.")
  @Nullable String operator;

  /** The code for the record. */
  String of(ToothCase tooth) throws UsageException {
    if (operator == null) {
      return tooth.operator();
    }
    Optional<String> wrong = CaseReader.notOperator(operator);
    if (wrong.isPresent()) {
      throw new UsageException("--operator " + wrong.get());
    }
    return operator;
  }
}
