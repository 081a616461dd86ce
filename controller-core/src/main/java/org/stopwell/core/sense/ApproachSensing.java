package org.stopwell.core.sense;

import java.util.Optional;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.core.trace.StateHash;
import org.stopwell.core.weights.DepthWeights;

/**
 * Distance from everything that four frequencies have said on the way down. It says how uncertain
 * the distance is, as its bound, and names a leak when current goes around the canal and the bound
 * is wide.
 *
 * <p>The length stage leaves a record of the canal behind; later stages start from it, and drop it
 * when the canal does not look like the recorded one.
 */
public final class ApproachSensing implements Sensing {
  /**
   * Least time from one estimate to the next, ns: every fourth sample of 5 ms, with half a sample
   * to spare, and every sample of 20 ms or more; assumed: 20 ms are 0.03 mm at 1.5 mm/s.
   */
  public static final long ESTIMATE_NS = 17_500_000;

  /** Further away than this only far is known, mm; what was fitted ends at 4 mm. */
  private static final double FAR_MM = 3.2;

  /**
   * Nearer than this a distance that is of no use is refused, mm. Chosen of 0.7 and 1.2 on canals
   * of seed 606001: bounds become narrower on the way, and 1.2 refused canals that were read well.
   */
  private static final double NEAR_MM = 0.7;

  /**
   * So is one whose bound comes this near to the foramen, share of the bound; chosen of 0.6, 0.8, 1
   * and 1.4 on the same canals: a greater share lets fewer files pass and refuses more.
   */
  private static final double NEAR_SHARE = 0.6;

  /** The length stage records the canal as near to this place as it comes, mm. */
  private static final double RECORD_MM = 0.5;

  /** A place further from it than this is not recorded, mm: the weights do not expect it. */
  private static final double RECORD_WITHIN_MM = 0.3;

  /**
   * Share of the standard error that is new in each estimate. The rest is common to the approach,
   * and no filter takes it off. Found best of 1, 0.5, 0.25 and 0.12 on canals of seed 555003.
   */
  private static final double FRESH = 0.25;

  private static final double MICRONS_PER_MM = 1000;

  private final int[] hertz;
  private final DepthEstimate estimate;
  private final RawSteps steps;
  private final double openMilliOhms;
  private final double unwettedMilliOhms;
  private final double enterMilliOhms;
  private final double[] size = new double[Stage.values().length];
  private final double[] taperPercent = new double[Stage.values().length];

  /** Whether the weights know the file of a stage; a stage with another one gets no distance. */
  private final boolean[] known = new boolean[Stage.values().length];

  private final double[] toleranceMicrons = new double[Stage.values().length];
  private final double refuseMicrons;
  private final double leakShare;
  private final double noiseMicrons;
  private boolean estimated;
  private long estimatedNs;
  private boolean cameDown;
  private double nearest = RECORD_WITHIN_MM;

  ApproachSensing(ControllerSettings settings) {
    ParameterValues sense = settings.section("sense");
    ParameterValues guard = settings.section("guard");
    hertz = settings.sensedHertz();
    steps = new RawSteps(sense, guard);
    DepthWeights weights = settings.weights().orElseThrow();
    openMilliOhms = sense.get(SenseParameters.OPEN);
    unwettedMilliOhms = sense.get(SenseParameters.UNWETTED);
    enterMilliOhms = sense.get(SenseParameters.ENTER);
    for (Stage stage : Stage.values()) {
      ParameterValues file = settings.file(stage);
      size[stage.code()] = file.get(FileParameters.SIZE);
      taperPercent[stage.code()] = file.get(FileParameters.TAPER) * 1e-2;
      known[stage.code()] =
          weights.validity().hasSize(file.get(FileParameters.SIZE))
              && weights.validity().hasTaper(file.get(FileParameters.TAPER));
      if (settings.has(stage)) {
        toleranceMicrons[stage.code()] = settings.stage(stage).get(StageParameters.TOLERANCE);
      }
    }
    estimate = new DepthEstimate(size[0], taperPercent[0], weights);
    refuseMicrons = sense.get(SenseParameters.REFUSE_BOUND);
    leakShare = sense.get(SenseParameters.LEAK_CURRENT) / 100.0;
    noiseMicrons = sense.get(SenseParameters.DISTANCE_NOISE);
  }

  @Override
  public void read(ControllerInput in, Measurement out) {
    if (!holdsFrequencies(in)) {
      out.unusable = true;
      return;
    }
    double re = in.zRealMilliOhms[0];
    double im = in.zImagMilliOhms[0];
    double lowMilliOhms = Math.sqrt(re * re + im * im);
    out.open = lowMilliOhms >= openMilliOhms;
    out.unwetted = !out.open && lowMilliOhms >= unwettedMilliOhms;
    out.outside = out.open || out.unwetted;
    out.inside = lowMilliOhms < enterMilliOhms;
    if (out.outside) {
      forget();
      return;
    }
    int stage = in.stage.code();
    if (!known[stage]) {
      out.vague = true;
      forget();
      return;
    }
    estimate.file(size[stage], taperPercent[stage]);
    if (!estimate.add(in)) {
      estimated = false;
      return;
    }
    boolean stepped = steps.update(in);
    boolean due = !estimated || in.sampleTimeNs - estimatedNs >= ESTIMATE_NS;
    if (due) {
      estimated = true;
      estimatedNs = in.sampleTimeNs;
      estimate.update(in.stage != Stage.LENGTH);
      learn(in.stage);
    }
    out.repeated = !due;
    tell(in.stage, out);
    // a tip that leaves the fluid steps as well
    out.jumped = stepped && !out.far;
  }

  private void tell(Stage stage, Measurement out) {
    double remaining = estimate.remainingMm();
    out.placed = true;
    out.lagNs = estimate.lagNs();
    out.far = remaining > FAR_MM;
    out.remainingMicrons = Math.min(remaining, FAR_MM) * MICRONS_PER_MM;
    out.standardErrorMicrons = estimate.errorMm() * MICRONS_PER_MM;
    out.sdMicrons = Math.max(noiseMicrons, FRESH * out.standardErrorMicrons);
    double bound = estimate.boundFactor() * out.standardErrorMicrons;
    boolean stated = bound < Double.POSITIVE_INFINITY;
    out.boundMicrons = stated ? bound : 0;
    out.vague = !out.far && estimate.unfamiliar();
    if (!out.far && !(bound <= toleranceMicrons[stage.code()])) {
      out.leaking = estimate.leakShare() > leakShare;
      // near, or perhaps at the foramen already
      boolean near = remaining < NEAR_MM || remaining * MICRONS_PER_MM < NEAR_SHARE * bound;
      out.hopeless = near && stated && !(bound <= refuseMicrons);
    }
  }

  /** The length stage records the canal, when it has seen the way down. */
  private void learn(Stage stage) {
    double above = estimate.remainingMm() - RECORD_MM;
    if (stage != Stage.LENGTH) {
      begin();
    } else if (above > RECORD_WITHIN_MM) {
      cameDown = true;
    } else if (cameDown && Math.abs(above) < nearest) {
      nearest = Math.abs(above);
      estimate.record();
    }
  }

  private void begin() {
    cameDown = false;
    nearest = RECORD_WITHIN_MM;
  }

  private boolean holdsFrequencies(ControllerInput in) {
    if (in.positionKind != PositionKind.IMPEDANCE || in.frequencyCount != hertz.length) {
      return false;
    }
    for (int i = 0; i < hertz.length; i++) {
      if (in.frequencyHz[i] != hertz[i]) {
        return false;
      }
    }
    return true;
  }

  @Override
  public Optional<LearnedCanal> learned() {
    return estimate.learnedCanal();
  }

  @Override
  public boolean recall(LearnedCanal canal) {
    return estimate.recall(canal);
  }

  @Override
  public void forget() {
    estimate.forget();
    steps.forget();
    estimated = false;
    begin();
  }

  @Override
  public long mixInto(long hash) {
    long h = StateHash.mix(steps.mixInto(estimate.mixInto(hash)), estimated ? estimatedNs : -1);
    return StateHash.mix(StateHash.mix(h, cameDown), nearest);
  }
}
