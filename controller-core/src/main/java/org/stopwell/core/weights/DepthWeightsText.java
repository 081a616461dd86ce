package org.stopwell.core.weights;

import java.util.ArrayList;
import java.util.Arrays;
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

  /** Bytes of a weight of the novelty. */
  private static final int SUM_BYTES = 2;

  private static final int MOST_LAYERS = 8;
  private static final int LINE = 76;
  private static final int MOST_TEETH = 10_000;
  private static final int MOST_POINTS = 64;
  private static final long MILLION = 1_000_000;
  private static final long MOST_MILLIONTHS = MILLION * MILLION;
  private static final String NONE = "none";

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
    Bytes bytes = new Bytes();
    network(bytes, weights.alone());
    weights.recorded().ifPresent(n -> network(bytes, n));
    if (bound.sums().outputs() > 0) {
      layer(bytes, bound.sums(), SUM_BYTES);
    }
    line(out, "bytes", Integer.toString(bytes.count));
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

  private static void network(Bytes out, DepthNetwork network) {
    int inputs = network.sizes()[0];
    for (int i = 0; i < inputs; i++) {
      out.put(Float.floatToIntBits(network.mean(i)), 4);
      out.put(Float.floatToIntBits(network.scale(i)), 4);
    }
    for (DepthLayer layer : network.layers()) {
      layer(out, layer, network.weightBits() / 8);
    }
  }

  private static void layer(Bytes out, DepthLayer layer, int width) {
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
    return new Reader(name, text).weights();
  }

  /** Bytes, lowest first, and their base 64 (RFC 4648). */
  private static final class Bytes {
    private static final String DIGITS =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

    private byte[] all = new byte[1 << 16];
    private int count;

    void put(int value, int width) {
      for (int b = 0; b < width; b++) {
        put((byte) (value >> (8 * b)));
      }
    }

    private void put(byte value) {
      if (count == all.length) {
        all = Arrays.copyOf(all, 2 * count);
      }
      all[count++] = value;
    }

    void appendTo(StringBuilder out) {
      int column = 0;
      for (int i = 0; i < count; i += 3) {
        int three = at(i) << 16 | at(i + 1) << 8 | at(i + 2);
        out.append(DIGITS.charAt(three >> 18)).append(DIGITS.charAt(three >> 12 & 63));
        out.append(i + 1 < count ? DIGITS.charAt(three >> 6 & 63) : '=');
        out.append(i + 2 < count ? DIGITS.charAt(three & 63) : '=');
        column += 4;
        if (column == LINE || i + 3 >= count) {
          out.append('\n');
          column = 0;
        }
      }
    }

    private int at(int index) {
      return index < count ? all[index] & 255 : 0;
    }

    /** The next number; the text was found long enough before. */
    int take(int width) {
      int value = 0;
      for (int b = 0; b < width; b++) {
        value |= (all[count++] & 255) << (8 * b);
      }
      return width == 1 ? (byte) value : width == 2 ? (short) value : value;
    }
  }

  /** One text that is read from its first line to its last. */
  private static final class Reader {
    private final String name;
    private final String text;
    private int at;
    private int line;
    private String value = "";

    Reader(String name, String text) {
      this.name = name;
      this.text = text;
    }

    WeightsException mistake(String why) {
      return new WeightsException(name, Math.max(1, line), why);
    }

    /** The next line; empty at the end of the text. */
    private String next() {
      line++;
      int end = text.indexOf('\n', at);
      String found = text.substring(at, end < 0 ? text.length() : end);
      at = end < 0 ? text.length() : end + 1;
      return found.endsWith("\r") ? found.substring(0, found.length() - 1) : found;
    }

    private String key(String key) throws WeightsException {
      String found = next();
      if (!found.startsWith(key + ": ")) {
        throw mistake("\"" + cut(found) + "\" stands in place of the line \"" + key + ": ...\"");
      }
      value = found.substring(key.length() + 2).strip();
      if (value.isEmpty()) {
        throw mistake(key + " is empty");
      }
      return value;
    }

    private static String cut(String text) {
      return text.length() > 40 ? text.substring(0, 40) + "..." : text;
    }

    DepthWeights weights() throws WeightsException {
      if (text.length() > LONGEST) {
        throw mistake(text.length() + " characters; weights have at most " + LONGEST);
      }
      if (!next().equals(FIRST)) {
        throw mistake("the first line is not \"" + FIRST + "\"; this file holds no weights");
      }
      DepthWeights.Origin origin =
          new DepthWeights.Origin(
              key("recipe"),
              key("build"),
              number("seed", Long.MIN_VALUE, Long.MAX_VALUE),
              (int) number("canals", 0, Integer.MAX_VALUE),
              names("teeth"),
              key("promise"));
      List<Integer> hertz =
          numbers(
              "frequencies_hz", 1, 1_000_000, DepthWeights.FREQUENCIES, DepthWeights.FREQUENCIES);
      rises("frequencies_hz", hertz, 1);
      List<Integer> sizes = numbers("file_sizes", 1, 1000, 2, 2);
      rises("file_sizes", sizes, 0);
      List<Integer> tapers = numbers("file_tapers_e4", 0, 10_000, 2, 2);
      rises("file_tapers_e4", tapers, 0);
      DepthWeights.Validity validity =
          new DepthWeights.Validity(hertz, sizes, tapers, names("fluids"));
      double[] novelties = decimals("bound_novelties");
      double[] factors = factors();
      double limit =
          key("novelty_limit").equals(NONE)
              ? Double.POSITIVE_INFINITY
              : millionths("novelty_limit", value) / (double) MILLION;
      int sums = (int) number("novelty_sums", 0, WIDEST);
      int boundLine = line;
      Shape alone = shape("network", false);
      Shape recorded = shape("record_network", true);
      Bytes bytes =
          bytes(
              alone.bytes()
                  + recorded.bytes()
                  + (sums > 0 ? layerBytes(DepthWeights.INPUTS, sums, SUM_BYTES) : 0));
      int bytesLine = line;
      checksum();
      line = bytesLine;
      DepthNetwork first = network(bytes, alone);
      Optional<DepthNetwork> second =
          recorded.sizes.isEmpty() ? Optional.empty() : Optional.of(network(bytes, recorded));
      try {
        DepthLayer novelty =
            sums > 0
                ? layer(bytes, DepthWeights.INPUTS, sums, SUM_BYTES)
                : DepthBound.NORMAL.sums();
        line = boundLine;
        DepthBound bound = new DepthBound(novelty, novelties, factors, limit);
        return new DepthWeights(origin, validity, first, second, bound);
      } catch (IllegalArgumentException e) {
        throw mistake(String.valueOf(e.getMessage()));
      }
    }

    private double[] factors() throws WeightsException {
      int before = at;
      if (key("bound_factors").equals(NONE)) {
        return new double[] {Double.POSITIVE_INFINITY};
      }
      at = before;
      line--;
      return decimals("bound_factors");
    }

    private void rises(String key, List<Integer> numbers, int least) throws WeightsException {
      for (int i = 1; i < numbers.size(); i++) {
        if (!(numbers.get(i) - numbers.get(i - 1) >= least)) {
          throw mistake(key + ": " + numbers.get(i) + " is below " + numbers.get(i - 1));
        }
      }
    }

    private long number(String key, long least, long most) throws WeightsException {
      return whole(key, key(key), least, most);
    }

    private long whole(String key, String digits, long least, long most) throws WeightsException {
      long number;
      try {
        number = Long.parseLong(digits);
      } catch (NumberFormatException e) {
        throw mistake(key + ": \"" + cut(digits) + "\" is not a whole number");
      }
      if (!(number >= least && number <= most)) {
        throw mistake(key + ": " + number + " is outside " + least + " to " + most);
      }
      return number;
    }

    private List<Integer> numbers(String key, int least, int most, int fewest, int mostCount)
        throws WeightsException {
      List<Integer> numbers = new ArrayList<>();
      for (String one : split(key(key), ' ')) {
        numbers.add((int) whole(key, one, least, most));
      }
      if (!(numbers.size() >= fewest && numbers.size() <= mostCount)) {
        throw mistake(
            key
                + " has "
                + numbers.size()
                + " numbers; it must have "
                + (fewest == mostCount ? "" : fewest + " to ")
                + mostCount);
      }
      return numbers;
    }

    private double[] decimals(String key) throws WeightsException {
      List<String> texts = split(key(key), ' ');
      if (texts.size() > MOST_POINTS) {
        throw mistake(key + " has " + texts.size() + " numbers, above " + MOST_POINTS);
      }
      double[] numbers = new double[texts.size()];
      for (int i = 0; i < numbers.length; i++) {
        numbers[i] = millionths(key, texts.get(i)) / (double) MILLION;
      }
      return numbers;
    }

    /**
     * A decimal number of at most six decimals, without any function that might round elsewhere.
     */
    private long millionths(String key, String digits) throws WeightsException {
      int dot = digits.indexOf('.');
      String head = dot < 0 ? digits : digits.substring(0, dot);
      String tail = dot < 0 ? "" : digits.substring(dot + 1);
      if (head.isEmpty() || tail.length() > 6 || tail.startsWith("-") || tail.startsWith("+")) {
        throw mistake(key + ": \"" + cut(digits) + "\" is not a number of at most 6 decimals");
      }
      long before = whole(key, head, 0, MILLION);
      long behind = whole(key, (tail + "000000").substring(0, 6), 0, MILLION - 1);
      return Math.min(MOST_MILLIONTHS, before * MILLION + behind);
    }

    private List<String> names(String key) throws WeightsException {
      if (key(key).equals(NONE)) {
        return List.of();
      }
      List<String> names = split(value, ',');
      if (names.size() > MOST_TEETH) {
        throw mistake(key + " has " + names.size() + " names, above " + MOST_TEETH);
      }
      return names;
    }

    private static List<String> split(String text, char between) {
      List<String> parts = new ArrayList<>();
      int from = 0;
      for (int i = 0; i <= text.length(); i++) {
        if (i == text.length() || text.charAt(i) == between) {
          String part = text.substring(from, i).strip();
          if (!part.isEmpty()) {
            parts.add(part);
          }
          from = i + 1;
        }
      }
      return parts;
    }

    /** What the head says of a network. */
    private record Shape(
        List<Integer> sizes, List<Integer> hiddenBits, int leak, int width, int line) {
      int bytes() {
        int bytes = sizes.isEmpty() ? 0 : 8 * sizes.get(0);
        for (int l = 1; l < sizes.size(); l++) {
          bytes += layerBytes(sizes.get(l - 1), sizes.get(l), width);
        }
        return bytes;
      }
    }

    private static int layerBytes(int inputs, int outputs, int width) {
      return width * inputs * outputs + 8 * outputs + 4;
    }

    private Shape shape(String key, boolean optional) throws WeightsException {
      int before = at;
      if (key(key).equals(NONE) && optional) {
        return new Shape(List.of(), List.of(), 0, 1, line);
      }
      at = before;
      line--;
      List<Integer> sizes = numbers(key, 1, WIDEST, 2, MOST_LAYERS + 1);
      int where = line;
      List<Integer> bits = List.of();
      before = at;
      if (!key(key + "_hidden_bits").equals(NONE)) {
        at = before;
        line--;
        bits = numbers(key + "_hidden_bits", 0, DepthNetwork.MOST_HIDDEN_BITS, 1, MOST_LAYERS);
      }
      if (bits.size() != sizes.size() - 2) {
        throw mistake(
            key
                + "_hidden_bits has "
                + bits.size()
                + " numbers for "
                + (sizes.size() - 2)
                + " hidden layers");
      }
      int leak = (int) number(key + "_leak", 0, DepthNetwork.LEAK_ONE);
      int weightBits = (int) number(key + "_weight_bits", 8, 16);
      if (weightBits != 8 && weightBits != 16) {
        throw mistake(key + "_weight_bits: " + weightBits + " is neither 8 nor 16");
      }
      return new Shape(sizes, bits, leak, weightBits / 8, where);
    }

    private Bytes bytes(int expected) throws WeightsException {
      int stated = (int) number("bytes", 0, Integer.MAX_VALUE);
      if (stated != expected) {
        throw mistake("bytes: " + stated + "; networks of these sizes have " + expected);
      }
      Bytes bytes = new Bytes();
      while (bytes.count < expected) {
        String digits = next();
        if (digits.isEmpty() || digits.length() % 4 != 0 || digits.length() > LINE) {
          throw mistake(
              "\""
                  + cut(digits)
                  + "\" is not a line of numbers; "
                  + (expected - bytes.count)
                  + " bytes are missing");
        }
        for (int i = 0; i < digits.length(); i += 4) {
          four(digits, i, bytes, expected);
        }
      }
      bytes.count = 0;
      return bytes;
    }

    private void four(String digits, int from, Bytes bytes, int expected) throws WeightsException {
      int three = 0;
      int left = Math.min(3, expected - bytes.count);
      if (left <= 0) {
        throw mistake("the numbers have more than " + expected + " bytes");
      }
      for (int d = 0; d < 4; d++) {
        char digit = digits.charAt(from + d);
        int six = digit == '=' && d > left ? 0 : Bytes.DIGITS.indexOf(digit);
        if (six < 0) {
          throw mistake(
              "'" + digit + "' in column " + (from + d + 1) + " is not a digit of base 64");
        }
        three = three << 6 | six;
      }
      for (int b = 0; b < left; b++) {
        bytes.put((byte) (three >> (16 - 8 * b)));
      }
    }

    private void checksum() throws WeightsException {
      long found = Fnv.of(text, at);
      String stated = key("checksum");
      if (!stated.equals(Fnv.hex(found))) {
        throw mistake(
            "checksum is "
                + cut(stated)
                + ", the text has "
                + Fnv.hex(found)
                + ": the file was changed or damaged");
      }
      if (!text.substring(at).isBlank()) {
        line++;
        throw mistake("there is text behind the checksum");
      }
    }

    private DepthNetwork network(Bytes bytes, Shape shape) throws WeightsException {
      int inputs = shape.sizes.get(0);
      float[] mean = new float[inputs];
      float[] scale = new float[inputs];
      for (int i = 0; i < inputs; i++) {
        mean[i] = Float.intBitsToFloat(bytes.take(4));
        scale[i] = Float.intBitsToFloat(bytes.take(4));
      }
      try {
        List<DepthLayer> layers = new ArrayList<>();
        for (int l = 1; l < shape.sizes.size(); l++) {
          layers.add(layer(bytes, shape.sizes.get(l - 1), shape.sizes.get(l), shape.width));
        }
        int[] bits = new int[shape.hiddenBits.size()];
        for (int i = 0; i < bits.length; i++) {
          bits[i] = shape.hiddenBits.get(i);
        }
        return new DepthNetwork(mean, scale, layers, bits, shape.leak);
      } catch (IllegalArgumentException e) {
        line = shape.line;
        throw mistake(String.valueOf(e.getMessage()));
      }
    }

    private static DepthLayer layer(Bytes bytes, int inputs, int outputs, int width) {
      int[][] rows = new int[inputs + 1][outputs];
      for (int j = 0; j < outputs; j++) {
        for (int i = 0; i < inputs; i++) {
          rows[i][j] = bytes.take(width);
        }
      }
      for (int j = 0; j < outputs; j++) {
        rows[inputs][j] = bytes.take(4);
      }
      int[] multipliers = new int[outputs];
      for (int j = 0; j < outputs; j++) {
        multipliers[j] = bytes.take(4);
      }
      return new DepthLayer(rows, multipliers, bytes.take(4));
    }
  }
}
