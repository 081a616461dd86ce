package org.stopwell.core.weights;

import java.util.List;
import java.util.Optional;

/**
 * Everything that policy {@code approach} was taught: the networks, the bound, what they are valid
 * for and where they come from. Immutable. {@link DepthWeightsText} is its form as a file.
 */
public final class DepthWeights {
  /** How many frequencies a sample holds. */
  public static final int FREQUENCIES = 4;

  /** Inputs of the network of a single approach: its features, size and taper of the file. */
  public static final int INPUTS = 74;

  /** How many numbers are estimated, each with the logarithm of its standard error. */
  public static final int TARGETS = 4;

  /**
   * Inputs of the network that also has a record: both, and what the other network says of both.
   */
  public static final int RECORDED_INPUTS = 2 * INPUTS + 4 * TARGETS;

  /**
   * Where weights come from.
   *
   * @param recipe what they were fitted from, one line
   * @param build version of the software that fitted them
   * @param seed seed of the fit
   * @param canals number of virtual canals in the training
   * @param teeth names of the measured teeth in the training
   * @param promise what the bound promises, one line
   */
  public record Origin(
      String recipe, String build, long seed, int canals, List<String> teeth, String promise) {
    /** Of weights that were put together in the program. */
    public static final Origin NONE = new Origin("none", "none", 0, 0, List.of(), "none");

    /** Copies the names. */
    public Origin {
      teeth = List.copyOf(teeth);
    }
  }

  /**
   * What weights are valid for.
   *
   * @param hertz the frequencies, ascending, Hz
   * @param sizes tip sizes of files, least and greatest, 1/100 mm
   * @param tapers tapers of files, least and greatest, 1/10 000 mm per mm
   * @param fluids the fluids by name
   */
  public record Validity(
      List<Integer> hertz, List<Integer> sizes, List<Integer> tapers, List<String> fluids) {
    /** The frequencies of the bench's front end, and every file. */
    public static final Validity ANY =
        new Validity(
            List.of(300, 1500, 7000, 20_000), List.of(6, 140), List.of(0, 1200), List.of());

    /** Copies the lists. */
    public Validity {
      hertz = List.copyOf(hertz);
      sizes = List.copyOf(sizes);
      tapers = List.copyOf(tapers);
      fluids = List.copyOf(fluids);
    }

    /**
     * Whether a file size is among those of the training.
     *
     * @param size tip diameter, 1/100 mm
     * @return within the least and the greatest
     */
    public boolean hasSize(long size) {
      return size >= sizes.get(0) && size <= sizes.get(1);
    }

    /**
     * Whether a taper is among those of the training.
     *
     * @param taper 1/10 000 mm per mm
     * @return within the least and the greatest
     */
    public boolean hasTaper(long taper) {
      return taper >= tapers.get(0) && taper <= tapers.get(1);
    }
  }

  private final Origin origin;
  private final Validity validity;
  private final DepthNetwork alone;
  private final Optional<DepthNetwork> recorded;
  private final DepthBound bound;
  private final long fingerprint;

  /**
   * Weights.
   *
   * @param origin where they come from
   * @param validity what they are valid for
   * @param alone the network of a single approach, of {@link #INPUTS} inputs
   * @param recorded the network that also has the record of an earlier approach, of {@link
   *     #RECORDED_INPUTS} inputs; empty where records are not used
   * @param bound what turns a standard error into a bound
   * @throws IllegalArgumentException when the parts do not fit together
   */
  public DepthWeights(
      Origin origin,
      Validity validity,
      DepthNetwork alone,
      Optional<DepthNetwork> recorded,
      DepthBound bound) {
    this.origin = origin;
    this.validity = validity;
    this.alone = alone;
    this.recorded = recorded;
    this.bound = bound;
    if (validity.hertz().size() != FREQUENCIES) {
      throw new IllegalArgumentException(
          validity.hertz().size() + " frequencies; there must be " + FREQUENCIES);
    }
    fits(alone, INPUTS, "network");
    recorded.ifPresent(n -> fits(n, RECORDED_INPUTS, "record network"));
    if (bound.sums().outputs() > 0 && bound.sums().inputs() != INPUTS) {
      throw new IllegalArgumentException(
          "novelty has " + bound.sums().inputs() + " inputs; it must have " + INPUTS);
    }
    fingerprint = hash();
  }

  private static void fits(DepthNetwork network, int inputs, String name) {
    int[] sizes = network.sizes();
    if (sizes[0] != inputs || sizes[sizes.length - 1] != 2 * TARGETS) {
      throw new IllegalArgumentException(
          name
              + " has "
              + sizes[0]
              + " inputs and "
              + sizes[sizes.length - 1]
              + " outputs; it must have "
              + inputs
              + " and "
              + 2 * TARGETS);
    }
  }

  /**
   * Weights with a bound of 1.96 standard errors, valid everywhere: for training, before anything
   * is known of them.
   *
   * @param alone the network of a single approach
   * @param recorded the network that also has a record
   * @return the weights
   */
  public static DepthWeights bare(DepthNetwork alone, Optional<DepthNetwork> recorded) {
    return new DepthWeights(Origin.NONE, Validity.ANY, alone, recorded, DepthBound.NORMAL);
  }

  /**
   * Where they come from.
   *
   * @return recipe, build, seed, teeth
   */
  public Origin origin() {
    return origin;
  }

  /**
   * What they are valid for.
   *
   * @return frequencies, files, fluids
   */
  public Validity validity() {
    return validity;
  }

  /**
   * The network of a single approach.
   *
   * @return the network
   */
  public DepthNetwork alone() {
    return alone;
  }

  /**
   * The network that also has the record of an earlier approach.
   *
   * @return empty where records are not used
   */
  public Optional<DepthNetwork> recorded() {
    return recorded;
  }

  /**
   * What turns a standard error into a bound.
   *
   * @return the bound
   */
  public DepthBound bound() {
    return bound;
  }

  /**
   * Hash of everything that a reading depends on; names and words are not part of it.
   *
   * @return 64 bits
   */
  public long fingerprint() {
    return fingerprint;
  }

  /**
   * The fingerprint as text.
   *
   * @return 16 hexadecimal digits
   */
  public String fingerprintText() {
    return Fnv.hex(fingerprint);
  }

  private long hash() {
    Fnv h = new Fnv();
    for (List<Integer> list : List.of(validity.hertz(), validity.sizes(), validity.tapers())) {
      list.forEach(h::add);
    }
    add(h, alone);
    h.add(recorded.isPresent() ? 1 : 0);
    recorded.ifPresent(n -> add(h, n));
    add(h, bound.sums());
    for (double value : bound.novelties()) {
      h.add(Double.doubleToLongBits(value));
    }
    for (double value : bound.factors()) {
      h.add(Double.doubleToLongBits(value));
    }
    h.add(Double.doubleToLongBits(bound.limit()));
    return h.hash();
  }

  private static void add(Fnv h, DepthNetwork network) {
    h.add(network.leak());
    for (int bits : network.bits()) {
      h.add(bits);
    }
    for (int i = 0; i < network.sizes()[0]; i++) {
      h.add(Float.floatToIntBits(network.mean(i)));
      h.add(Float.floatToIntBits(network.scale(i)));
    }
    for (DepthLayer layer : network.layers()) {
      add(h, layer);
    }
  }

  private static void add(Fnv h, DepthLayer layer) {
    h.add(layer.inputs());
    h.add(layer.outputs());
    h.add(layer.shift());
    for (int j = 0; j < layer.outputs(); j++) {
      for (int i = 0; i < layer.inputs(); i++) {
        h.add(layer.weight(i, j));
      }
      h.add(layer.offset(j));
      h.add(layer.multiplier(j));
    }
  }
}
