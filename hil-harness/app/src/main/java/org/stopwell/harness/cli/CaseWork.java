package org.stopwell.harness.cli;

import java.io.IOException;
import java.nio.file.Path;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseCanal;
import org.stopwell.harness.casework.CaseReader;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.CaseRecordException;
import org.stopwell.harness.casework.CaseStamp;
import org.stopwell.harness.casework.ToothCase;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.rig.time.Utc;

/** A step in one canal: case and record, held until the step has ended. */
record CaseWork(ToothCase tooth, CaseCanal canal, CaseRecord record, String operator)
    implements AutoCloseable {

  /** Reads the case and holds its record. */
  static CaseWork open(Path directory, String canal, OperatorOption operator)
      throws PlanException, UsageException, CaseRecordException, IOException {
    ToothCase tooth = CaseReader.read(directory);
    return new CaseWork(
        tooth,
        OpenCase.canal(tooth, directory, canal),
        CaseRecord.open(directory),
        operator.code(tooth));
  }

  /** What was done in the canal before. */
  CanalHistory history() {
    return record.history(canal.name());
  }

  /** What the entry of this step states beside its result. */
  CaseStamp stamp(String bench, boolean simulated, String settings) {
    return new CaseStamp(
        Utc.now(),
        tooth.tooth(),
        canal.name(),
        operator,
        bench,
        simulated,
        Build.identity(),
        tooth.sha256(),
        settings);
  }

  @Override
  public void close() throws IOException {
    record.close();
  }
}
