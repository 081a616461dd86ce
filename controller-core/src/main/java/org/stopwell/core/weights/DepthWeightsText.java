package org.stopwell.core.weights;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Weights as text, the form of a weights file: a first line with the version, a head of {@code key:
 * value} lines, the numbers in base 64, and a checksum. docs/weights.md describes it.
 */
public final class DepthWeightsText {
  /** The first line. */
  public static final String FIRST = "stopwell weights 1";

  /** Longer text is refused, characters. */
  public static final int LONGEST = 4 << 20;

  /** Most units of one layer. */
  public static final int WIDEST = 1024;

  /** WeightBytes of a weight of the novelty. */
  static final int SUM_BYTES = 2;

  /** Decimals are written in this many parts. */
  static final long MILLION = 1_000_000;

  /** Written for a list without entries. */
  static final String NONE = "none";

  private DepthWeightsText() {}

  /**
   * Writes weights.
   *
   * @param weights the weights
   * @return the text of the file; {@link #decode} gives the same weights
   */
  public static String encode(DepthWeights weights) {
    StringBuilder out = new StringBuilder(1 << 18).append(FIRST).append('\n');
    DepthWeights.Origin origin = weights.origin();
    DepthWeights.Validity validity = weights.validity();
    DepthBound bound = weights.bound();
    line(out, "recipe", origin.recipe());
    line(out, "build", origin.build());
    line(out, "seed", Long.toString(origin.seed()));
    line(out, "canals", Integer.toString(origin.canals()));
    line(out, "teeth", names(origin.teeth()));
    line(out, "promise", origin.promise());
    line(out, "frequencies_hz", whole(validity.hertz()));
    line(out, "file_sizes", whole(validity.sizes()));
    line(out, "file_tapers_e4", whole(validity.tapers()));
    line(out, "fluids", names(validity.fluids()));
    line(out, "bound_novelties", decimals(bound.novelties()));
    line(
        out,
        "bound_factors",
        bound.factors()[0] == Double.POSITIVE_INFINITY ? NONE : decimals(bound.factors()));
    line(
        out,
        "novelty_limit",
        bound.limit() == Double.POSITIVE_INFINITY ? NONE : decimals(bound.limit()));
    line(out, "novelty_sums", Integer.toString(bound.sums().outputs()));
    network(out, "network", Optional.of(weights.alone()));
    network(out, "record_network", weights.recorded());
    WeightBytes bytes = new WeightBytes();
    network(bytes, weights.alone());
    weights.recorded().ifPresent(n -> network(bytes, n));
    if (bound.sums().outputs() > 0) {
      layer(bytes, bound.sums(), SUM_BYTES);
    }
    line(out, "bytes", Integer.toString(bytes.count()));
    bytes.appendTo(out);
    return line(out, "checksum", Fnv.hex(Fnv.of(out, out.length()))).toString();
  }

  private static StringBuilder line(StringBuilder out, String key, String value) {
    return out.append(key).append(": ").append(value.replace('\n', ' ').strip()).append('\n');
  }

  private static String names(List<String> names) {
    return names.isEmpty() ? NONE : String.join(", ", names);
  }

  private static String whole(List<Integer> numbers) {
    List<String> texts = new ArrayList<>();
    for (int number : numbers) {
      texts.add(Integer.toString(number));
    }
    return String.join(" ", texts);
  }

  private static String decimals(double... numbers) {
    List<String> texts = new ArrayList<>();
    for (double number : numbers) {
      long millionths = Math.round(number * MILLION);
      String digits = Long.toString(MILLION + millionths % MILLION).substring(1);
      texts.add(millionths / MILLION + "." + digits);
    }
    return String.join(" ", texts);
  }

  private static void network(StringBuilder out, String key, Optional<DepthNetwork> network) {
    if (network.isEmpty()) {
      line(out, key, NONE);
      return;
    }
    line(out, key, whole(list(network.get().sizes())));
    int[] bits = network.get().bits();
    List<Integer> hidden = list(bits).subList(1, bits.length - 1);
    line(out, key + "_hidden_bits", hidden.isEmpty() ? NONE : whole(hidden));
    line(out, key + "_leak", Integer.toString(network.get().leak()));
    line(out, key + "_weight_bits", Integer.toString(network.get().weightBits()));
  }

  private static List<Integer> list(int[] numbers) {
    List<Integer> list = new ArrayList<>();
    for (int number : numbers) {
      list.add(number);
    }
    return list;
  }

  private static void network(WeightBytes out, DepthNetwork network) {
    int inputs = network.sizes()[0];
    for (int i = 0; i < inputs; i++) {
      out.put(Float.floatToIntBits(network.mean(i)), 4);
      out.put(Float.floatToIntBits(network.scale(i)), 4);
    }
    for (DepthLayer layer : network.layers()) {
      layer(out, layer, network.weightBits() / 8);
    }
  }

  private static void layer(WeightBytes out, DepthLayer layer, int width) {
    for (int j = 0; j < layer.outputs(); j++) {
      for (int i = 0; i < layer.inputs(); i++) {
        out.put(layer.weight(i, j), width);
      }
    }
    for (int j = 0; j < layer.outputs(); j++) {
      out.put(layer.offset(j), 4);
    }
    for (int j = 0; j < layer.outputs(); j++) {
      out.put(layer.multiplier(j), 4);
    }
    out.put(layer.shift(), 4);
  }

  /**
   * Reads weights.
   *
   * @param name what the text is called in messages
   * @param text a weights file
   * @return the weights
   * @throws WeightsException when it holds no valid weights
   */
  public static DepthWeights decode(String name, String text) throws WeightsException {
    return new WeightsReader(name, text).weights();
  }
}
