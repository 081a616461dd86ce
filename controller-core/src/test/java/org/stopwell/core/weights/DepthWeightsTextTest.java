package org.stopwell.core.weights;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.TestWeights;

/** A weights file survives its text, and a wrong one is refused by line and value. */
class DepthWeightsTextTest {
  private final Random random = new Random(20_261_130);

  private DepthLayer layer(int inputs, int outputs, int most) {
    int[][] rows = new int[inputs + 1][outputs];
    int[] multipliers = new int[outputs];
    for (int j = 0; j < outputs; j++) {
      for (int i = 0; i < inputs; i++) {
        rows[i][j] = random.nextInt(2 * most + 1) - most;
      }
      rows[inputs][j] = random.nextInt(2_000_001) - 1_000_000;
      multipliers[j] = random.nextInt(Integer.MAX_VALUE);
    }
    return new DepthLayer(rows, multipliers, 1 + random.nextInt(62));
  }

  private DepthNetwork network(int most, int... sizes) {
    float[] mean = new float[sizes[0]];
    float[] scale = new float[sizes[0]];
    for (int i = 0; i < sizes[0]; i++) {
      mean[i] = (float) random.nextGaussian();
      scale[i] = random.nextFloat();
    }
    List<DepthLayer> layers = new ArrayList<>();
    int[] bits = new int[sizes.length - 2];
    for (int l = 1; l < sizes.length; l++) {
      layers.add(layer(sizes[l - 1], sizes[l], most));
      if (l < bits.length + 1) {
        bits[l - 1] = random.nextInt(16);
      }
    }
    return new DepthNetwork(mean, scale, layers, bits, random.nextInt(32_769));
  }

  private DepthWeights invented(boolean withRecord, int sums) {
    return new DepthWeights(
        new DepthWeights.Origin(
            "recipe: of two lines\nin one", "0.1", -5, 7, List.of("T 1", "T2"), "95 of 100"),
        new DepthWeights.Validity(
            List.of(100, 200, 300, 400), List.of(8, 8), List.of(0, 600), List.of("saline")),
        network(127, DepthWeights.INPUTS, 3, 5, 8),
        withRecord ? Optional.of(network(300, DepthWeights.RECORDED_INPUTS, 8)) : Optional.empty(),
        new DepthBound(
            layer(sums == 0 ? 0 : DepthWeights.INPUTS, sums, 99),
            new double[] {0, 0.5, 2.25},
            new double[] {1.5, 1.5, 3.000001},
            sums == 0 ? Double.POSITIVE_INFINITY : 4.5));
  }

  @ParameterizedTest(name = "record network {0}, {1} sums")
  @CsvSource({"true,2", "false,0", "true,0", "false,7"})
  void weightsSurviveTheirTextToTheBit(boolean withRecord, int sums) throws WeightsException {
    DepthWeights weights = invented(withRecord, sums);
    String text = DepthWeightsText.encode(weights);
    DepthWeights read = DepthWeightsText.decode("own.weights", text);
    assertEquals(weights.fingerprint(), read.fingerprint());
    assertEquals(text, DepthWeightsText.encode(read));
    assertEquals(weights.validity(), read.validity());
    assertEquals(List.of("T 1", "T2"), read.origin().teeth());
    assertEquals("recipe: of two lines in one", read.origin().recipe());
    assertArrayEquals(weights.alone().sizes(), read.alone().sizes());
    assertEquals(withRecord, read.recorded().isPresent());
    assertEquals(
        weights.fingerprint(),
        DepthWeightsText.decode("own.weights", text.replace("\n", "\r\n").replace("\r", ""))
            .fingerprint());
  }

  @Test
  void theShippedFileIsWhatTheProgramWrites() {
    assertEquals(TestWeights.text(), DepthWeightsText.encode(TestWeights.SHIPPED));
  }

  @Test
  void everyNumberCountsInTheFingerprintAndNoWordDoes() throws WeightsException {
    DepthWeights weights = invented(true, 2);
    DepthWeights reworded =
        new DepthWeights(
            DepthWeights.Origin.NONE,
            weights.validity(),
            weights.alone(),
            weights.recorded(),
            weights.bound());
    assertEquals(weights.fingerprint(), reworded.fingerprint());
    DepthWeights narrower =
        new DepthWeights(
            weights.origin(),
            weights.validity(),
            weights.alone(),
            weights.recorded(),
            new DepthBound(weights.bound().sums(), new double[] {0}, new double[] {1.96}, 4.5));
    assertNotEquals(weights.fingerprint(), narrower.fingerprint());
    DepthWeights alone =
        new DepthWeights(
            weights.origin(),
            weights.validity(),
            weights.alone(),
            Optional.empty(),
            weights.bound());
    assertNotEquals(weights.fingerprint(), alone.fingerprint());
    assertEquals(16, weights.fingerprintText().length());
    assertEquals(weights.fingerprint(), Long.parseUnsignedLong(weights.fingerprintText(), 16));
  }

  private static String refusal(String text) {
    return String.valueOf(
        assertThrows(WeightsException.class, () -> DepthWeightsText.decode("own.weights", text))
            .getMessage());
  }

  @ParameterizedTest(name = "{0} for {1}")
  @CsvSource(
      delimiter = '|',
      value = {
        "stopwell weights 2 | stopwell weights 1 | own.weights:1: the first line is not",
        "seed: x | seed: -5 | own.weights:4: seed: \"x\" is not a whole number",
        "canals: -1 | canals: 7 | own.weights:5: canals: -1 is outside 0 to 2147483647",
        "frequencies_hz: 1 2 3 | frequencies_hz: 100 200 300 400 | own.weights:8: frequencies_hz has 3 numbers; it must have 4",
        "frequencies_hz: 1 2 2 3 | frequencies_hz: 100 200 300 400 | own.weights:8: frequencies_hz: 2 is",
        "file_sizes: 9 8 | file_sizes: 8 8 | own.weights:9: file_sizes: 8 is below 9",
        "colour: red | fluids: saline | own.weights:11: \"colour: red\" stands in place of the line \"fluids: ...\"",
        "bound_factors: 1.5 1.5 x | bound_factors: 1.500000 1.500000 3.000001 | own.weights:13: bound_factors: \"x\" is not a whole number",
        "bound_factors: 1.5 1.5 3.0000011 | bound_factors: 1.500000 1.500000 3.000001 | own.weights:13: bound_factors: \"3.0000011\" is not a number of at most 6 decimals",
        "network: 74 3 5 2000 | network: 74 3 5 8 | own.weights:16: network: 2000 is outside 1 to 1024",
        "network_hidden_bits: 1 | network_hidden_bits: HIDDEN | own.weights:17: network_hidden_bits has 1 numbers for 2 hidden layers",
        "network_weight_bits: 12 | network_weight_bits: 8 | own.weights:19: network_weight_bits: 12 is neither 8 nor 16",
        "network: 74 3 6 8 | network: 74 3 5 8 | own.weights:24: bytes:"
      })
  void aWrongLineIsRefusedByItsNumberAndValue(String wrong, String right, String message) {
    String text = DepthWeightsText.encode(invented(true, 2));
    if (right.endsWith("HIDDEN")) {
      String found = text.substring(text.indexOf("network_hidden_bits"));
      check(text.replace(found.substring(0, found.indexOf('\n')), wrong), message);
    } else {
      assertTrue(text.contains(right + "\n"), right);
      check(text.replace(right + "\n", wrong + "\n"), message);
    }
  }

  private static void check(String text, String message) {
    String said = refusal(text);
    assertTrue(said.startsWith(message), said);
  }

  @Test
  void aChangedDigitIsFoundByTheChecksum() {
    String text = DepthWeightsText.encode(invented(false, 0));
    int at = text.indexOf("\n", text.indexOf("bytes: ")) + 10;
    char other = text.charAt(at) == 'A' ? 'B' : 'A';
    String said = refusal(text.substring(0, at) + other + text.substring(at + 1));
    assertTrue(said.contains("the file was changed or damaged"), said);
    said = refusal(text.substring(0, at) + '!' + text.substring(at + 1));
    assertTrue(said.contains("'!' in column 10 is not a digit of base 64"), said);
    said = refusal(text + "more");
    assertTrue(said.contains("text behind the checksum"), said);
  }

  /**
   * Text that is cut anywhere, or has any character changed, is refused and nothing else happens.
   */
  @Test
  void hostileTextIsRefused() {
    String text = DepthWeightsText.encode(invented(true, 2));
    for (int cut = 0; cut < text.length() - 1; cut += cut < 1500 ? 1 : 97) {
      refusal(text.substring(0, cut));
    }
    for (int k = 0; k < 3000; k++) {
      int at = random.nextInt(k % 2 == 0 ? 1500 : text.length() - 1);
      char wrong = (char) (random.nextInt(10) == 0 ? random.nextInt(65_536) : random.nextInt(128));
      if (wrong != text.charAt(at)) {
        refusal(text.substring(0, at) + wrong + text.substring(at + 1));
      }
    }
    refusal("x".repeat(DepthWeightsText.LONGEST + 1));
  }

  @Test
  void aSumThatCouldOverflowIsRefusedByTheLineOfItsNetwork() {
    DepthWeights weights = invented(false, 0);
    String text = DepthWeightsText.encode(weights);
    int from = text.indexOf("\n", text.indexOf("bytes: ")) + 1;
    int end = text.indexOf("checksum: ");
    StringBuilder numbers = new StringBuilder(text.substring(from, end));
    for (int i = 0; i < numbers.length(); i++) {
      // the last numbers are the multipliers and the shift of the last layer
      if (i > numbers.length() - 12 && numbers.charAt(i) != '\n' && numbers.charAt(i) != '=') {
        numbers.setCharAt(i, '/');
      }
    }
    String changed = text.substring(0, from) + numbers;
    changed += "checksum: " + Fnv.hex(Fnv.of(changed, changed.length())) + "\n";
    String said = refusal(changed);
    assertTrue(said.startsWith("own.weights:16: shift "), said);
  }
}
