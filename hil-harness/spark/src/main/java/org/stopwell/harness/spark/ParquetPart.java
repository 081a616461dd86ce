package org.stopwell.harness.spark;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.apache.hadoop.conf.Configuration;
import org.apache.parquet.conf.ParquetConfiguration;
import org.apache.parquet.conf.PlainParquetConfiguration;
import org.apache.parquet.hadoop.ParquetFileWriter;
import org.apache.parquet.hadoop.ParquetWriter;
import org.apache.parquet.hadoop.api.WriteSupport;
import org.apache.parquet.hadoop.metadata.CompressionCodecName;
import org.apache.parquet.io.LocalOutputFile;
import org.apache.parquet.io.OutputFile;
import org.apache.parquet.io.api.Binary;
import org.apache.parquet.io.api.RecordConsumer;
import org.apache.parquet.schema.LogicalTypeAnnotation;
import org.apache.parquet.schema.MessageType;
import org.apache.parquet.schema.PrimitiveType.PrimitiveTypeName;
import org.apache.parquet.schema.Types;
import org.stopwell.harness.explore.RowColumn;
import org.stopwell.harness.explore.RowSink;

/**
 * The trials of one shard as a Parquet file, by the library with which Spark writes Parquet. The
 * values are those of {@code trials.csv}, after the number of the trial.
 */
final class ParquetPart implements RowSink, AutoCloseable {
  /** The column with the number of the trial. */
  static final String TRIAL = "trial";

  private final ParquetWriter<long[]> writer;

  /**
   * Begins a file; one that is there is replaced.
   *
   * @param file the file
   * @param columns the columns of a row
   */
  ParquetPart(Path file, List<RowColumn> columns) throws IOException {
    this.writer =
        new Builder(new LocalOutputFile(file), columns)
            .withConf(new PlainParquetConfiguration())
            .withWriteMode(ParquetFileWriter.Mode.OVERWRITE)
            // Numbers of a random draw do not get shorter, and words are kept as places in a list.
            .withCompressionCodec(CompressionCodecName.UNCOMPRESSED)
            .build();
  }

  @Override
  public void put(long trial, long[] values) {
    long[] row = new long[values.length + 1];
    row[0] = trial;
    System.arraycopy(values, 0, row, 1, values.length);
    try {
      writer.write(row);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Override
  public void close() throws IOException {
    writer.close();
  }

  private static final class Builder extends ParquetWriter.Builder<long[], Builder> {
    private final List<RowColumn> columns;

    Builder(OutputFile file, List<RowColumn> columns) {
      super(file);
      this.columns = columns;
    }

    @Override
    protected Builder self() {
      return this;
    }

    @Override
    @SuppressWarnings("deprecation") // the library still wants it
    protected WriteSupport<long[]> getWriteSupport(Configuration settings) {
      return new Rows(columns);
    }

    @Override
    protected WriteSupport<long[]> getWriteSupport(ParquetConfiguration settings) {
      return new Rows(columns);
    }
  }

  /** Hands the values of a row to the library. */
  private static final class Rows extends WriteSupport<long[]> {
    private final List<RowColumn> columns;
    private Optional<RecordConsumer> consumer = Optional.empty();

    Rows(List<RowColumn> columns) {
      this.columns = columns;
    }

    @Override
    @SuppressWarnings("deprecation") // the library still wants it
    public WriteContext init(Configuration settings) {
      return new WriteContext(schema(), Map.of());
    }

    @Override
    public WriteContext init(ParquetConfiguration settings) {
      return new WriteContext(schema(), Map.of());
    }

    private MessageType schema() {
      Types.MessageTypeBuilder schema = Types.buildMessage();
      schema.required(PrimitiveTypeName.INT64).named(TRIAL);
      for (RowColumn column : columns) {
        switch (column.kind()) {
          case WHOLE -> schema.required(PrimitiveTypeName.INT64).named(column.name());
          case NUMBER -> schema.required(PrimitiveTypeName.DOUBLE).named(column.name());
          case WORD ->
              schema
                  .required(PrimitiveTypeName.BINARY)
                  .as(LogicalTypeAnnotation.stringType())
                  .named(column.name());
        }
      }
      return schema.named("trials");
    }

    @Override
    public void prepareForWrite(RecordConsumer to) {
      consumer = Optional.of(to);
    }

    @Override
    public void write(long[] row) {
      RecordConsumer out = consumer.orElseThrow();
      out.startMessage();
      out.startField(TRIAL, 0);
      out.addLong(row[0]);
      out.endField(TRIAL, 0);
      for (int i = 1; i < row.length; i++) {
        RowColumn column = columns.get(i - 1);
        out.startField(column.name(), i);
        switch (column.kind()) {
          case WHOLE -> out.addLong(row[i]);
          case NUMBER -> out.addDouble(Double.parseDouble(column.text().apply(row[i])));
          case WORD -> out.addBinary(Binary.fromString(column.text().apply(row[i])));
        }
        out.endField(column.name(), i);
      }
      out.endMessage();
    }
  }
}
