package org.stopwell.core.weights;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.TestWeights;

/** The network in C, compiled by gcc with the shipped weights as constants, gives equal bits. */
class DepthNetworkPortTest {
  private static final Path PORT = Path.of("port-c").toAbsolutePath();
  private static final int READINGS = 500;

  @TempDir Path dir;

  /** The weights as constants. */
  private static String header(DepthNetwork network) {
    StringBuilder out = new StringBuilder();
    int[] sizes = network.sizes();
    List<String> layers = new ArrayList<>();
    int widest = 1;
    for (int l = 0; l < network.layers().size(); l++) {
      DepthLayer layer = network.layers().get(l);
      List<String> weights = new ArrayList<>();
      List<String> offsets = new ArrayList<>();
      List<String> multipliers = new ArrayList<>();
      for (int j = 0; j < layer.outputs(); j++) {
        for (int i = 0; i < layer.inputs(); i++) {
          weights.add(Integer.toString(layer.weight(i, j)));
        }
        offsets.add(Integer.toString(layer.offset(j)));
        multipliers.add(Integer.toString(layer.multiplier(j)));
      }
      array(out, "int8_t", "W" + l, weights);
      array(out, "int32_t", "O" + l, offsets);
      array(out, "int32_t", "M" + l, multipliers);
      layers.add(
          String.format(
              "{%d, %d, W%d, O%d, M%d, %d}",
              layer.inputs(), layer.outputs(), l, l, l, layer.shift()));
      widest = Math.max(widest, layer.outputs());
    }
    List<String> mean = new ArrayList<>();
    List<String> scale = new ArrayList<>();
    for (int i = 0; i < sizes[0]; i++) {
      mean.add(Float.toHexString(network.mean(i)) + "f");
      scale.add(Float.toHexString(network.scale(i)) + "f");
    }
    array(out, "float", "MEAN", mean);
    array(out, "float", "SCALE", scale);
    array(out, "depth_layer", "LAYERS", layers);
    out.append("static const depth_network NETWORK = {MEAN, SCALE, LAYERS, ")
        .append(layers.size())
        .append(", ")
        .append(network.leak())
        .append("};\nenum { INPUTS = ")
        .append(sizes[0])
        .append(", WIDEST = ")
        .append(widest)
        .append(", OUTPUTS = ")
        .append(sizes[sizes.length - 1])
        .append(" };\n");
    return out.toString();
  }

  private static void array(StringBuilder out, String type, String name, List<String> values) {
    out.append("static const ").append(type).append(' ').append(name).append("[] = {");
    out.append(String.join(",", values)).append("};\n");
  }

  @Test
  void theNetworkInCGivesEqualBits() throws Exception {
    DepthNetwork network = TestWeights.SHIPPED.alone();
    assertEquals(8, network.weightBits(), "the port has weights of 8 bits");
    Files.writeString(dir.resolve("weights.h"), header(network));
    Random random = new Random(31);
    DepthPass pass = new DepthPass(network);
    StringBuilder features = new StringBuilder();
    StringBuilder expected = new StringBuilder();
    for (int k = 0; k < READINGS; k++) {
      for (int i = 0; i < pass.inputs().length; i++) {
        double spread = k % 10 == 0 ? 100 : 2;
        pass.inputs()[i] =
            network.mean(i) + spread * random.nextGaussian() / Math.max(1e-3, network.scale(i));
        features.append(Double.toHexString(pass.inputs()[i])).append('\n');
      }
      pass.run();
      List<String> outputs = new ArrayList<>();
      for (int j = 0; j < 2 * DepthWeights.TARGETS; j++) {
        outputs.add(Long.toString(Math.round(pass.output(j) * (1 << DepthNetwork.OUTPUT_BITS))));
      }
      expected.append(String.join(" ", outputs)).append('\n');
    }
    Files.writeString(dir.resolve("features.txt"), features);
    assertEquals(
        "",
        start(
            "gcc",
            "-std=c99",
            "-O2",
            "-Wall",
            "-Wextra",
            "-Werror",
            "-pedantic",
            "-ffp-contract=off",
            "-I" + dir,
            "-o",
            "run_depth_network",
            PORT.resolve("run_depth_network.c").toString(),
            PORT.resolve("depth_network.c").toString(),
            "-lm"));
    assertEquals(expected.toString(), start("./run_depth_network"));
    String keep = System.getProperty("stopwell.keep");
    if (keep != null) {
      Files.copy(dir.resolve("weights.h"), Path.of(keep, "weights.h"));
      Files.copy(dir.resolve("features.txt"), Path.of(keep, "features.txt"));
    }
  }

  private String start(String... command) throws Exception {
    Process process =
        new ProcessBuilder(command)
            .directory(dir.toFile())
            .redirectErrorStream(true)
            .redirectInput(dir.resolve("features.txt").toFile())
            .start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertEquals(0, process.waitFor(), said);
    return said;
  }
}
