package org.stopwell.harness.learn;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.TreeMap;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.sense.ApproachMemory;
import org.stopwell.core.sense.ApproachSensing;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.harness.assess.FloatLayers;
import org.stopwell.harness.trace.TraceDirectory;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.harness.trace.TracedApproach;
import org.stopwell.harness.trace.TruthTrace;

/**
 * The measured teeth, by name, each with its approaches. A trace goes through the memory of the
 * core as it does in a controller: as many readings as it makes estimates.
 *
 * @param teeth approaches by tooth, teeth by name
 */
record TaughtTeeth(List<List<TaughtApproach>> teeth) {
  /** Fewer teeth are refused: nothing could be left out to judge them by. */
  static final int FEWEST = 10;

  /** Readings further away are left out, mm: the estimate ends at 4 mm. */
  private static final float MOST_MM = 5;

  /** An approach must come nearer than this, mm. */
  private static final float MUST_REACH_MM = 1;

  /** Most readings that are kept of an approach; evenly thinned. Assumed: 0.01 mm apart. */
  private static final int MOST_READINGS = 500;

  private static final int MOST_MISTAKES = 20;

  /** What one trace came to: an approach, or why not. */
  private record Read(List<TaughtApproach> approach, List<String> mistakes) {}

  /** Reads all traces. */
  static TaughtTeeth read(
      TraceDirectory directory, StartWeights start, double[] file, Work work, Runnable done)
      throws TraceException {
    check(directory, start.shipped());
    List<TracedApproach> traces = directory.approaches();
    List<Read> all =
        work.each(
            traces.size(),
            i -> {
              Read read = one(traces.get(i), start, file);
              done.run();
              return read;
            });
    List<String> mistakes = all.stream().flatMap(r -> r.mistakes().stream()).toList();
    if (!mistakes.isEmpty()) {
      throw new TraceException(mistakes.stream().limit(MOST_MISTAKES).toList());
    }
    TreeMap<String, List<TaughtApproach>> byName = new TreeMap<>();
    all.forEach(
        r ->
            r.approach()
                .forEach(a -> byName.computeIfAbsent(a.tooth, t -> new ArrayList<>()).add(a)));
    return new TaughtTeeth(byName.values().stream().map(List::copyOf).toList());
  }

  private static void check(TraceDirectory directory, DepthWeights weights) throws TraceException {
    List<Integer> needed = weights.validity().hertz();
    if (!directory.frequencies().equals(needed)) {
      throw new TraceException(
          List.of(
              directory.directory()
                  + ": the traces hold "
                  + (directory.frequencies().isEmpty()
                      ? "distances of a locator"
                      : "impedance at " + directory.frequencies() + " Hz")
                  + "; the weights need impedance at "
                  + needed
                  + " Hz. Record these four frequencies"));
    }
    List<String> names =
        directory.approaches().stream()
            .map(TracedApproach::tooth)
            .distinct()
            .filter(t -> t.indexOf(',') >= 0)
            .toList();
    if (!names.isEmpty()) {
      throw new TraceException(
          List.of(
              directory.directory()
                  + ": the name of tooth \""
                  + names.get(0)
                  + "\" holds a comma; the weights file lists names with commas between them."
                  + " Name the tooth without one"));
    }
    long teeth = directory.approaches().stream().map(TracedApproach::tooth).distinct().count();
    if (teeth < FEWEST) {
      throw new TraceException(
          List.of(
              directory.directory()
                  + ": traces of "
                  + teeth
                  + " teeth; learning needs at least "
                  + FEWEST
                  + ", and 19 for a stated bound. Measure more teeth"));
    }
  }

  private static Read one(TracedApproach traced, StartWeights start, double[] file) {
    try {
      return readings(traced, traced.read(), start, file);
    } catch (TraceException e) {
      return new Read(List.of(), e.mistakes());
    }
  }

  private static Read readings(
      TracedApproach traced, TruthTrace trace, StartWeights start, double[] file) {
    ApproachMemory memory = new ApproachMemory();
    ControllerInput in = new ControllerInput();
    double most = SenseParameters.UNWETTED.defaultValue();
    double[] features = new double[DepthWeights.INPUTS];
    features[DepthWeights.INPUTS - 2] = file[0];
    features[DepthWeights.INPUTS - 1] = file[1];
    float[] inputs = new float[DepthWeights.INPUTS * 256];
    float[] truth = new float[256];
    float[] ratios = new float[256];
    float[] lowOhms = new float[256];
    float nearest = Float.POSITIVE_INFINITY;
    int count = 0;
    boolean begun = false;
    long readNs = 0;
    for (int row = 0; row < trace.rows(); row++) {
      if (!trace.sampled(row)) {
        continue;
      }
      trace.fill(row, 0, in);
      nearest = Math.min(nearest, trace.truthMicrons(row) * 1e-3f);
      double re = in.zRealMilliOhms[0];
      double im = in.zImagMilliOhms[0];
      if (Math.sqrt(re * re + im * im) >= most) {
        memory.forget();
        begun = false;
        continue;
      }
      if (!memory.add(in)) {
        begun = false;
        continue;
      }
      boolean due = !begun || in.sampleTimeNs - readNs >= ApproachSensing.ESTIMATE_NS;
      begun = true;
      readNs = due ? in.sampleTimeNs : readNs;
      float mm = trace.truthMicrons(row) * 1e-3f;
      if (!due || mm > MOST_MM) {
        continue;
      }
      if (count == truth.length) {
        truth = Arrays.copyOf(truth, 2 * count);
        ratios = Arrays.copyOf(ratios, 2 * count);
        lowOhms = Arrays.copyOf(lowOhms, 2 * count);
        inputs = Arrays.copyOf(inputs, 2 * inputs.length);
      }
      memory.features(features);
      start.normalise(features, inputs, count * DepthWeights.INPUTS);
      double low = Math.sqrt(re * re + im * im);
      double highRe = in.zRealMilliOhms[RatioCurve.HIGH];
      double highIm = in.zImagMilliOhms[RatioCurve.HIGH];
      ratios[count] = (float) (Math.sqrt(highRe * highRe + highIm * highIm) / low);
      lowOhms[count] = (float) (low * 1e-3);
      truth[count++] = mm;
    }
    String where = traced.file().toString();
    if (!(nearest < MUST_REACH_MM)) {
      return mistake(
          where
              + ": the file comes no nearer to the foramen than "
              + nearest
              + " mm; an approach to learn from must come nearer than "
              + MUST_REACH_MM
              + " mm. Record the whole way, or take the trace out");
    }
    float least = Float.POSITIVE_INFINITY;
    for (int k = 0; k < count; k++) {
      least = Math.min(least, truth[k]);
    }
    if (!(least < MUST_REACH_MM)) {
      return mistake(
          where
              + ": the tip is out of the fluid nearer than "
              + MUST_REACH_MM
              + " mm, so there is no reading to learn from. Take the trace out");
    }
    return new Read(
        List.of(thinned(traced, inputs, new float[][] {truth, ratios, lowOhms}, count, start)),
        List.of());
  }

  private static Read mistake(String what) {
    return new Read(List.of(), List.of(what));
  }

  private static TaughtApproach thinned(
      TracedApproach traced, float[] inputs, float[][] rows, int count, StartWeights start) {
    int width = DepthWeights.INPUTS;
    int every = (count + MOST_READINGS - 1) / MOST_READINGS;
    int kept = (count + every - 1) / every;
    float[] fewInputs = new float[kept * width];
    float[][] few = new float[rows.length][kept];
    for (int k = 0; k < kept; k++) {
      System.arraycopy(inputs, k * every * width, fewInputs, k * width, width);
      for (int r = 0; r < rows.length; r++) {
        few[r][k] = rows[r][k * every];
      }
    }
    TaughtApproach approach =
        new TaughtApproach(
            traced.file().getFileName().toString(),
            traced.tooth(),
            traced.fluid().replace(',', '.'),
            traced.lengthUncertaintyMicrons() * 1e-3f,
            fewInputs,
            few[0],
            few[1],
            few[2],
            start.anyFile());
    FloatLayers layers = start.layers();
    float[][] values = layers.values();
    for (int k = 0; k < kept; k++) {
      approach.inputs(k, values[0]);
      approach.setStart(k, layers.run(values));
    }
    return approach;
  }

  int count() {
    return teeth.size();
  }

  List<TaughtApproach> approaches() {
    return teeth.stream().flatMap(List::stream).toList();
  }

  /** The fluids by name. */
  List<String> fluids() {
    return approaches().stream().map(a -> a.fluid).distinct().sorted().toList();
  }

  /** The greatest standard uncertainty of a measured length, mm. */
  float lengthErrorMm() {
    float most = 0;
    for (TaughtApproach approach : approaches()) {
      most = Math.max(most, approach.lengthErrorMm);
    }
    return most;
  }
}
