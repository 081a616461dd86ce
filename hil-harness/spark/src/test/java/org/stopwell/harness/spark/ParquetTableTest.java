package org.stopwell.harness.spark;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.explore.EngineException;
import org.stopwell.harness.explore.UnitSet;

/** The table of trials over the death of a program: no row is lost, none is there twice. */
class ParquetTableTest {
  @TempDir Path dir;

  private Set<String> names(Path of) throws IOException {
    try (Stream<Path> all = Files.list(of)) {
      return new TreeSet<>(all.map(f -> f.getFileName().toString()).toList());
    }
  }

  private static void write(ParquetTable table, long from, long to) throws IOException {
    try (ParquetPart part =
        new ParquetPart(
            table.pending().resolve(ParquetTable.part(from, to)), ToyWork.of(100).columns())) {
      ToyWork.of(100).shard(from, to, part);
    }
  }

  @Test
  void onlyAcceptedShardsAreInTheTableOfTheNextRun() throws IOException {
    ParquetTable dead = new ParquetTable(dir, "1");
    dead.begin(UnitSet.NONE);
    write(dead, 0, 10);
    write(dead, 10, 30);
    write(dead, 30, 40);
    assertTrue(dead.accept(new UnitSet.Range(0, 10)));
    assertTrue(dead.accept(new UnitSet.Range(10, 30)));
    // The program dies before it keeps that the second shard is finished. A worker goes on.
    ParquetTable next = new ParquetTable(dir, "2");
    next.begin(UnitSet.NONE.with(0, 10));
    assertEquals(Set.of(ParquetTable.part(0, 10), "_pending-2"), names(dir));
    assertThrows(IOException.class, () -> write(dead, 40, 50), "it writes nowhere");
    write(next, 10, 40);
    assertTrue(next.accept(new UnitSet.Range(10, 40)));
    write(next, 10, 40); // a second attempt of the same shard comes late
    next.complete();
    next.end();
    assertEquals(
        Set.of(ParquetTable.part(0, 10), ParquetTable.part(10, 40), ParquetTable.COMPLETE),
        names(dir));
    assertEquals(80, ParquetRows.read(dir).size());
    assertEquals(79, ParquetRows.read(dir).lastKey());
  }

  @Test
  void aFileOnTheDiskOfAnotherMachineIsNoticed() {
    ParquetTable table = new ParquetTable(dir, "1");
    table.begin(UnitSet.NONE);
    assertFalse(table.accept(new UnitSet.Range(0, 10)));
  }

  @Test
  void unitsThatRanWithoutTheTableAreNamed() {
    ParquetTable table = new ParquetTable(dir, "1");
    String message =
        String.valueOf(
            assertThrows(EngineException.class, () -> table.begin(UnitSet.NONE.with(0, 10)))
                .getMessage());
    assertTrue(message.contains("holds 0 of the 10 units that are finished"), message);
    assertTrue(message.contains("--no-parquet"), message);
  }
}
