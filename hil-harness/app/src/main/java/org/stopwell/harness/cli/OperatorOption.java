package org.stopwell.harness.cli;

import org.jspecify.annotations.Nullable;
import org.stopwell.harness.casework.CaseReader;
import org.stopwell.harness.casework.ToothCase;
import picocli.CommandLine.Option;

/** Who does a step. */
final class OperatorOption {
  @Option(
      names = "--operator",
      paramLabel = "CODE",
      description = "Code of the operator. Default: that of case.yaml.")
  @Nullable String operator;

  /** The code that counts. */
  String code(ToothCase tooth) throws UsageException {
    if (operator == null) {
      return tooth.operator();
    }
    var wrong = CaseReader.notOperator(operator);
    if (wrong.isPresent()) {
      throw new UsageException("--operator " + wrong.get());
    }
    return operator;
  }
}
