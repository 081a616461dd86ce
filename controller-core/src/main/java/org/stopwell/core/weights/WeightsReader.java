package org.stopwell.core.weights;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** One text that is read from its first line to its last. */
final class WeightsReader {
  private static final int MOST_LAYERS = 8;
  private static final int MOST_TEETH = 10_000;
  private static final int MOST_POINTS = 64;
  private static final long MOST_MILLIONTHS = DepthWeightsText.MILLION * DepthWeightsText.MILLION;

  private final String name;
  private final String text;
  private int at;
  private int line;
  private String value = "";

  WeightsReader(String name, String text) {
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
    if (text.length() > DepthWeightsText.LONGEST) {
      throw mistake(
          text.length() + " characters; weights have at most " + DepthWeightsText.LONGEST);
    }
    if (!next().equals(DepthWeightsText.FIRST)) {
      throw mistake(
          "the first line is not \"" + DepthWeightsText.FIRST + "\"; this file holds no weights");
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
        numbers("frequencies_hz", 1, 1_000_000, DepthWeights.FREQUENCIES, DepthWeights.FREQUENCIES);
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
        key("novelty_limit").equals(DepthWeightsText.NONE)
            ? Double.POSITIVE_INFINITY
            : millionths("novelty_limit", value) / (double) DepthWeightsText.MILLION;
    int sums = (int) number("novelty_sums", 0, DepthWeightsText.WIDEST);
    int boundLine = line;
    Shape alone = shape("network", false);
    Shape recorded = shape("record_network", true);
    WeightBytes bytes =
        bytes(
            alone.bytes()
                + recorded.bytes()
                + (sums > 0
                    ? layerBytes(DepthWeights.INPUTS, sums, DepthWeightsText.SUM_BYTES)
                    : 0));
    int bytesLine = line;
    checksum();
    line = bytesLine;
    DepthNetwork first = network(bytes, alone);
    Optional<DepthNetwork> second =
        recorded.sizes.isEmpty() ? Optional.empty() : Optional.of(network(bytes, recorded));
    try {
      DepthLayer novelty =
          sums > 0
              ? layer(bytes, DepthWeights.INPUTS, sums, DepthWeightsText.SUM_BYTES)
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
    if (key("bound_factors").equals(DepthWeightsText.NONE)) {
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
      numbers[i] = millionths(key, texts.get(i)) / (double) DepthWeightsText.MILLION;
    }
    return numbers;
  }

  /** A decimal number of at most six decimals, without any function that might round elsewhere. */
  private long millionths(String key, String digits) throws WeightsException {
    int dot = digits.indexOf('.');
    String head = dot < 0 ? digits : digits.substring(0, dot);
    String tail = dot < 0 ? "" : digits.substring(dot + 1);
    if (head.isEmpty() || tail.length() > 6 || tail.startsWith("-") || tail.startsWith("+")) {
      throw mistake(key + ": \"" + cut(digits) + "\" is not a number of at most 6 decimals");
    }
    long before = whole(key, head, 0, DepthWeightsText.MILLION);
    long behind = whole(key, (tail + "000000").substring(0, 6), 0, DepthWeightsText.MILLION - 1);
    return Math.min(MOST_MILLIONTHS, before * DepthWeightsText.MILLION + behind);
  }

  private List<String> names(String key) throws WeightsException {
    if (key(key).equals(DepthWeightsText.NONE)) {
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
    if (key(key).equals(DepthWeightsText.NONE) && optional) {
      return new Shape(List.of(), List.of(), 0, 1, line);
    }
    at = before;
    line--;
    List<Integer> sizes = numbers(key, 1, DepthWeightsText.WIDEST, 2, MOST_LAYERS + 1);
    int where = line;
    List<Integer> bits = List.of();
    before = at;
    if (!key(key + "_hidden_bits").equals(DepthWeightsText.NONE)) {
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

  private WeightBytes bytes(int expected) throws WeightsException {
    int stated = (int) number("bytes", 0, Integer.MAX_VALUE);
    if (stated != expected) {
      throw mistake("bytes: " + stated + "; networks of these sizes have " + expected);
    }
    WeightBytes bytes = new WeightBytes();
    while (bytes.count() < expected) {
      String digits = next();
      if (digits.isEmpty() || digits.length() % 4 != 0 || digits.length() > WeightBytes.LINE) {
        throw mistake(
            "\""
                + cut(digits)
                + "\" is not a line of numbers; "
                + (expected - bytes.count())
                + " bytes are missing");
      }
      for (int i = 0; i < digits.length(); i += 4) {
        four(digits, i, bytes, expected);
      }
    }
    bytes.rewind();
    return bytes;
  }

  private void four(String digits, int from, WeightBytes bytes, int expected)
      throws WeightsException {
    int three = 0;
    int left = Math.min(3, expected - bytes.count());
    if (left <= 0) {
      throw mistake("the numbers have more than " + expected + " bytes");
    }
    for (int d = 0; d < 4; d++) {
      char digit = digits.charAt(from + d);
      int six = digit == '=' && d > left ? 0 : WeightBytes.DIGITS.indexOf(digit);
      if (six < 0) {
        throw mistake("'" + digit + "' in column " + (from + d + 1) + " is not a digit of base 64");
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

  private DepthNetwork network(WeightBytes bytes, Shape shape) throws WeightsException {
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

  private static DepthLayer layer(WeightBytes bytes, int inputs, int outputs, int width) {
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
