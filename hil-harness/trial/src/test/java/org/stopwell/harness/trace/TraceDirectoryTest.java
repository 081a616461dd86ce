package org.stopwell.harness.trace;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;

class TraceDirectoryTest {
  private static final String HEAD = "t_ms,z400hz_re_ohm,z400hz_im_ohm,true_remaining_mm\n";

  @TempDir Path dir;

  @Test
  void theManifestSaysToothFluidAndUncertainty() throws Exception {
    file("b.csv", HEAD + "0,5000,-10.5,12.25\n20,,,12.2\n40,4990.1234,-1e1,-0.1\n");
    file("a.csv", HEAD + "0,1,2,3\n");
    file(
        "manifest.csv",
        "tooth,file,fluid,length_u_mm,note,simulated\nT2,b.csv,NaOCl 5.25 %,0.05,x,1\nT1,a.csv,dry,,y,\n");
    file("notes.txt", "no trace");
    TraceDirectory traces = TraceDirectory.read(dir);
    assertEquals(
        List.of(
            new TracedApproach(dir.resolve("a.csv"), "T1", "dry", 0),
            new TracedApproach(dir.resolve("b.csv"), "T2", "NaOCl 5.25 %", 50)),
        traces.approaches());
    assertEquals(List.of(400), traces.frequencies());
    assertEquals(List.of("note"), traces.unread());
    assertTrue(traces.simulated());
    TruthTrace trace = traces.approaches().get(1).read();
    assertEquals(3, trace.rows());
    assertEquals(List.of(400), trace.frequencies());
    assertEquals(40_000_000, trace.nowNs(2));
    assertTrue(trace.sampled(0));
    assertFalse(trace.sampled(1));
    assertEquals(12_250, trace.truthMicrons(0));
    assertEquals(-100, trace.truthMicrons(2));
    assertEquals(5_000_000, trace.zRealMilliOhms(0, 0));
    assertEquals(-10_500, trace.zImagMilliOhms(0, 0));
    assertEquals(4_990_123, trace.zRealMilliOhms(2, 0));
    assertEquals(-10_000, trace.zImagMilliOhms(2, 0));
  }

  @Test
  void aRowWithoutASampleKeepsTheOneBefore() throws Exception {
    Path file = file("T_1.csv", HEAD + "0,5000,-10,12\n20,,,11\n40,4000,-9,10\n");
    TruthTrace trace = TruthTrace.read(file);
    ControllerInput in = new ControllerInput();
    trace.fill(0, 7, in);
    trace.fill(1, 8, in);
    assertEquals(1, in.sampleSequence);
    assertEquals(0, in.sampleTimeNs);
    assertEquals(PositionKind.IMPEDANCE, in.positionKind);
    assertEquals(5_000_000, in.zRealMilliOhms[0]);
    assertEquals(8, in.speedMilliRpm);
    assertTrue(in.demand);
    assertFalse(in.insertionPresent);
    trace.fill(2, 9, in);
    assertEquals(2, in.sampleSequence);
    assertEquals(4_000_000, in.zRealMilliOhms[0]);
  }

  @Test
  void everyColumnOfATraceIsHeld() throws Exception {
    Path file =
        file(
            "T_1.csv",
            """
            t_ms,distance_mm,insertion_mm,speed_rpm,torque_ncm,demand,true_remaining_mm
            0,4.2,18.5,300,0.5,1,4.1
            20,no_contact,,-20,0.1,0,4
            """);
    TruthTrace trace = TruthTrace.read(file);
    ControllerInput in = new ControllerInput();
    trace.fill(0, 0, in);
    assertEquals(4_200, in.distanceMicrons);
    assertTrue(in.insertionPresent);
    assertEquals(18_500, in.insertionMicrons);
    assertEquals(300_000, in.speedMilliRpm);
    assertEquals(5_000, in.torqueMicroNewtonMetres);
    trace.fill(1, 0, in);
    assertEquals(PositionKind.NO_CONTACT, in.positionKind);
    assertFalse(in.insertionPresent);
    assertEquals(-20_000, in.speedMilliRpm);
    assertFalse(in.demand);
  }

  @Test
  void withoutAManifestTheFileNameSaysTheTooth() throws Exception {
    file("tooth 7_half_1.csv", HEAD + "0,1,2,3\n");
    assertEquals(
        List.of(
            new TracedApproach(
                dir.resolve("tooth 7_half_1.csv"), "tooth 7", TraceDirectory.FLUID_NOT_STATED, 0)),
        TraceDirectory.read(dir).approaches());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "file,tooth\\na_1.csv,T1                  | manifest.csv:1: must have the columns file,tooth,fluid",
        "file,tooth,fluid\\na_1.csv,T1,dry\\nc.csv,T2,dry | manifest.csv:3: file: \"c.csv\" is not a CSV file of this directory",
        "file,tooth,fluid\\n../a_1.csv,T1,dry     | file: \"../a_1.csv\" is not a CSV file of this directory",
        "file,tooth,fluid\\na_1.csv,T1,dry        | b_1.csv: not named in manifest.csv",
        "file,tooth,fluid\\na_1.csv,T1,dry\\na_1.csv,T2,dry | manifest.csv:3: file: \"a_1.csv\" is named twice",
        "file,tooth,fluid\\na_1.csv,,dry          | manifest.csv:2: tooth: \"\" is not a name",
        "file,tooth,fluid\\na_1.csv,T1,<b>        | manifest.csv:2: fluid: \"<b>\" is not a name",
        "file,tooth,fluid\\na_1.csv,T1            | manifest.csv:2: 2 cells, the head has 3",
        "file,tooth,fluid,length_u_mm\\na_1.csv,T1,dry,50 | length_u_mm: \"50\" is not a number from 0 to 2 mm",
        "file,tooth,fluid,length_u_mm\\na_1.csv,T1,dry,-1 | length_u_mm: \"-1\" is not a number from 0 to 2 mm",
        "file,tooth,fluid,length_u_mm\\na_1.csv,T1,dry,wide | length_u_mm: \"wide\" is not a number from 0 to 2 mm",
      })
  void aWrongManifestIsRefusedWithItsLine(String manifest, String message) throws Exception {
    file("a_1.csv", HEAD + "0,1,2,3\n");
    file("b_1.csv", HEAD + "0,1,2,3\n");
    file("manifest.csv", manifest.replace("\\n", "\n"));
    assertTrue(refusal().contains(message), refusal());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "a.csv   | t_ms,distance_mm,true_remaining_mm\\n0,1,1 | a.csv: which tooth is not known",
        "_a.csv  | t_ms,distance_mm,true_remaining_mm\\n0,1,1 | _a.csv: which tooth is not known",
        "a_1.csv | t_ms,distance_mm\\n0,1 | a_1.csv:1: column true_remaining_mm: missing",
        "a_1.csv | `` | a_1.csv:1: column t_ms: missing",
        "a_1.csv | t_ms,distance_mm,true_remaining_mm\\n0,1,1 | b_1.csv:1: holds impedance at 400 Hz, a_1.csv holds distance_mm",
        "a_1.csv | t_ms,z500hz_re_ohm,z500hz_im_ohm,true_remaining_mm\\n0,1,1,1 | b_1.csv:1: holds impedance at 400 Hz, a_1.csv holds impedance at 500 Hz",
      })
  void aWrongHeadIsRefusedBeforeAnyTraceIsRead(String name, String text, String message)
      throws Exception {
    file(name, text.replace("\\n", "\n"));
    file("b_1.csv", HEAD + "0,1,2,3\n");
    assertTrue(refusal().contains(message), refusal());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "0,1,2,3;0,1,2,3     | T_1.csv:3: t_ms: \"0\" is not above the row before",
        "0,1,2,              | T_1.csv:2: true_remaining_mm: \"\" is not a number in mm",
        "0,1,2,deep          | T_1.csv:2: true_remaining_mm: \"deep\" is not a number",
        "0,1,2,4100          | T_1.csv:2: true_remaining_mm: \"4100\" is not within -60 to 60 mm",
        "0,1,,3              | T_1.csv:2: a sample needs every impedance column, or none",
        "0,99999999,1,3      | T_1.csv:2: z400hz_re_ohm: \"99999999\" is out of range",
      })
  void aWrongRowIsRefusedWithItsLine(String rows, String message) throws Exception {
    file("T_1.csv", HEAD + rows.replace(';', '\n'));
    TracedApproach approach = TraceDirectory.read(dir).approaches().get(0);
    String said = assertThrows(TraceException.class, approach::read).mistakes().toString();
    assertTrue(said.contains(message), said);
  }

  @Test
  void anEmptyDirectoryIsRefused() throws Exception {
    assertTrue(refusal().contains(dir + ": no traces"), refusal());
    assertFalse(TraceDirectory.hasTraces(dir));
    file("manifest.csv", "file,tooth,fluid\n");
    assertTrue(refusal().contains(dir + ": no traces"), refusal());
    assertTrue(TraceDirectory.hasTraces(dir));
  }

  @Test
  void aTraceMayNotBeADirectory() throws Exception {
    Files.createDirectory(dir.resolve("T_1.csv"));
    assertTrue(refusal().contains("T_1.csv: is a directory, not a file"), refusal());
  }

  private String refusal() {
    return assertThrows(TraceException.class, () -> TraceDirectory.read(dir)).mistakes().toString();
  }

  private Path file(String name, String text) throws IOException {
    return Files.writeString(dir.resolve(name), text);
  }
}
