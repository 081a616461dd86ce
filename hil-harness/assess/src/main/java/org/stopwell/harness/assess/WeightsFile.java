package org.stopwell.harness.assess;

import org.stopwell.core.sense.DepthNetwork;

/** Writes fitted weights as the source file that ships with the core. */
public final class WeightsFile {
  private static final int LINE = 84;

  private WeightsFile() {}

  /**
   * The source file.
   *
   * @param alone weights of the network of a single approach
   * @param learned weights of the network that also has a record
   * @return Java
   */
  public static String java(double[] alone, double[] learned) {
    return "package org.stopwell.core.sense;\n\n"
        + "/** Weights of the depth estimate. Written by {@code stopwell assess --fit}; do not edit. */\n"
        + "final class DepthWeights {\n"
        + constant("ALONE_TEXT", alone)
        + constant("LEARNED_TEXT", learned)
        + "  /** Of a single approach. */\n"
        + "  static final double[] ALONE = DepthNetwork.decode(ALONE_TEXT);\n\n"
        + "  /** With a record of the canal. */\n"
        + "  static final double[] LEARNED = DepthNetwork.decode(LEARNED_TEXT);\n\n"
        + "  private DepthWeights() {}\n"
        + "}\n";
  }

  private static String constant(String name, double[] weights) {
    String text = DepthNetwork.encode(weights);
    StringBuilder out = new StringBuilder("  private static final String[] " + name + " = {\n");
    for (int from = 0; from < text.length(); from += LINE) {
      String line = text.substring(from, Math.min(text.length(), from + LINE));
      out.append("    \"").append(line).append(from + LINE < text.length() ? "\",\n" : "\"\n");
    }
    return out.append("  };\n\n").toString();
  }
}
