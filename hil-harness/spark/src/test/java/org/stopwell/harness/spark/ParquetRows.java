package org.stopwell.harness.spark;

import static org.junit.jupiter.api.Assertions.assertNull;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import org.apache.hadoop.conf.Configuration;
import org.apache.parquet.conf.ParquetConfiguration;
import org.apache.parquet.conf.PlainParquetConfiguration;
import org.apache.parquet.example.data.Group;
import org.apache.parquet.hadoop.ParquetReader;
import org.apache.parquet.hadoop.api.ReadSupport;
import org.apache.parquet.hadoop.example.GroupReadSupport;
import org.apache.parquet.io.InputFile;
import org.apache.parquet.io.LocalInputFile;
import org.apache.parquet.schema.Type;

/** Reads a table of trials as a reader of Parquet does: every file whose name begins with no _. */
final class ParquetRows {
  private ParquetRows() {}

  /** The cells of each row by the number of its trial. */
  static SortedMap<Long, List<Object>> read(Path table) throws IOException {
    SortedMap<Long, List<Object>> rows = new TreeMap<>();
    try (DirectoryStream<Path> files = Files.newDirectoryStream(table, "[!_]*")) {
      for (Path file : files) {
        try (ParquetReader<Group> reader = new Opening(new LocalInputFile(file)).build()) {
          for (Group row = reader.read(); row != null; row = reader.read()) {
            long trial = row.getLong(ParquetPart.TRIAL, 0);
            assertNull(rows.put(trial, cells(row)), "trial " + trial + " is there twice");
          }
        }
      }
    }
    return rows;
  }

  private static List<Object> cells(Group row) {
    List<Object> cells = new ArrayList<>();
    List<Type> columns = row.getType().getFields();
    for (int i = 1; i < columns.size(); i++) {
      cells.add(
          switch (columns.get(i).asPrimitiveType().getPrimitiveTypeName()) {
            case INT64 -> row.getLong(i, 0);
            case DOUBLE -> row.getDouble(i, 0);
            default -> row.getString(i, 0);
          });
    }
    return cells;
  }

  private static final class Opening extends ParquetReader.Builder<Group> {
    Opening(InputFile file) {
      super(file, new PlainParquetConfiguration());
    }

    @Override
    protected ReadSupport<Group> getReadSupport() {
      return new GroupReadSupport() {
        @Override
        public ReadContext init(
            ParquetConfiguration settings,
            java.util.Map<String, String> meta,
            org.apache.parquet.schema.MessageType schema) {
          return new ReadContext(schema);
        }

        @Override
        public ReadContext init(
            Configuration settings,
            java.util.Map<String, String> meta,
            org.apache.parquet.schema.MessageType schema) {
          return new ReadContext(schema);
        }
      };
    }
  }
}
